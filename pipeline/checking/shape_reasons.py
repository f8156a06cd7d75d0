"""What is said of a cell that the shape of its table does not allow."""

from __future__ import annotations

from schemas.words import saying

BLANK = saying("is blank, and the row is of no use without it")
BLANK_BELOW = saying(
    "is blank, and the row is of no use without it; if it is written on the first row only of "
    'several, put fill_down = ["{}"] under [{}] in season.toml'
)
"""Of a column that is blank in as many rows as it is written in, or more."""
NO_HEADER = saying(
    "has no header that is known, and the row is of no use without it; say under [{}.columns] in "
    'season.toml which it is, as in {} = "Header"'
)
BLANK_TOW = saying(
    "is blank, and there are no two times to work it out from; write the hours towed, or both times"
)
SKIPPED = saying(
    "is blank, and {} is a time that the clocks of {} skipped as they were put forward, so that it "
    "can't be worked out; put that time right, or write the hours towed"
)
ABOVE = saying("must be more than {}; put it right or leave it blank")
ABOVE_AND_THERE = saying("must be more than {}; put it right")
LEAST = saying("must be {} or more; put it right or leave it blank")
LEAST_AND_THERE = saying("must be {} or more; put it right")
MOST = saying("must be {} or less; put it right or leave it blank")
MOST_AND_THERE = saying("must be {} or less; put it right")
"""What is said where a blank is of no use either."""
MOST_OF_LATITUDE = saying("must be {} or less; are latitude and longitude swapped?")
LONGER_THAN_A_TOW = saying(
    "is longer than a tow of {} h; put it right, or raise longest_tow_hours under [checks] in "
    "season.toml"
)
UNKNOWN_WORD = saying(
    "is not a {} that is known; write one of {}, or map it with words in season.toml"
)
UNKNOWN_ANSWER = saying("is none of {}; write one of them, or map it with words in season.toml")
UNKNOWN_WORDS = saying("has a word that is not known; write one or more of {}, joined by ;")
WORKED_OUT = saying("worked out from shot_at and hauled_at, {}")
"""Of hours that no cell holds; what is wrong with them reads on from it."""
REASONS = (
    ABOVE,
    ABOVE_AND_THERE,
    LEAST,
    LEAST_AND_THERE,
    MOST,
    MOST_AND_THERE,
    MOST_OF_LATITUDE,
    LONGER_THAN_A_TOW,
    BLANK_BELOW,
    NO_HEADER,
    SKIPPED,
    UNKNOWN_ANSWER,
    UNKNOWN_WORD,
    UNKNOWN_WORDS,
)
