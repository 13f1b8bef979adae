"""What a tool is, how large, how heavy and of which outline."""
