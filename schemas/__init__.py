"""Every table, column, word, setting and outcome, once."""
