"""How dark the sky is in a direction: natural sky, skyglow, moonlight, twilight."""
