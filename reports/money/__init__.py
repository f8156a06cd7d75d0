"""What would pay: catch against damage, in money."""
