"""What is said, how it is drawn, and the page it stands on."""
