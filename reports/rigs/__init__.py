"""What is said and shown of the rigs: on a terminal and in the report."""
