"""The section on where and why the net tears."""
