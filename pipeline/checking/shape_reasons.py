"""What is said of a cell that the shape of its table does not allow."""

from __future__ import annotations

from schemas.words import saying

BLANK = saying("is blank, and the row is of no use without it")
BLANK_TOW = saying(
    "is blank, and there are no two times to work it out from; write the hours towed, or both times"
)
ABOVE = saying("must be more than {}; put it right or leave it blank")
LEAST = saying("must be {} or more; put it right or leave it blank")
MOST = saying("must be {} or less; put it right or leave it blank")
MOST_OF_LATITUDE = saying("must be {} or less; are latitude and longitude swapped?")
LONGER_THAN_A_TOW = saying(
    "is longer than a tow of {} h; put it right, or raise longest_tow_hours under [checks] in "
    "season.toml"
)
UNKNOWN_WORD = saying(
    "is not a {} that is known; write one of {}, or map it with words in season.toml"
)
UNKNOWN_WORDS = saying("has one that is not known of {}; write one or more of {}, joined by ;")
REASONS = (
    ABOVE,
    LEAST,
    MOST,
    MOST_OF_LATITUDE,
    LONGER_THAN_A_TOW,
    UNKNOWN_WORD,
    UNKNOWN_WORDS,
)
