"""What letters say: one subject a file, each kind a function from a letter to its words.

A builder gives None when what the letter was to say is no longer true; then it is not sent.
"""
