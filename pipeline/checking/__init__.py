"""Part the good rows from the rows set aside, each with a reason."""
