"""The SQL that joins, measures and sums, one file for each table that it makes."""
