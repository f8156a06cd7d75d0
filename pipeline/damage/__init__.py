"""What happened to the net: where and why it tore, what that cost, and what would pay."""
