"""What damage costs, in words, tables and a chart of how mending adds up."""
