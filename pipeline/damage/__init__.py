"""What damage costs: how often and how much when, and how mending adds up over a rig's life."""
