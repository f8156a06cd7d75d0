"""What a skipper is told to change, keep, look over and write down."""
