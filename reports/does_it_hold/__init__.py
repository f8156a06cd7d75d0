"""The section "Does it hold?": each headline in other ways, and how the models fit."""
