"""What can be photographed: one kind a file, listed once in `kinds.py`."""
