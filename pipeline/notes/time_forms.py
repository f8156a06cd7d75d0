"""How skippers write a stretch of time or a time of day, form by form.

What stands in a note is found by these; `times.py` makes hours of it.
"""

from __future__ import annotations

from pipeline.notes.clock_forms import FROM_CLOCK_TO_CLOCK, TIMES_OF_DAY
from pipeline.notes.number_words import FRACTION, HALF, NUMBER, QUARTERS
from pipeline.notes.short_forms import SHORT_STRETCHES
from pipeline.notes.time_needs import (
    A_BIT,
    BOTH,
    DAYS,
    HOURS,
    LESS,
    MAN_HOURS,
    MINUTES,
    OR_MORE,
    PART_OF_HOUR,
    PLUS,
    RUN_ON,
    UNIT,
)
from pipeline.notes.time_words import (
    AND,
    HOUR,
    MAN_HOUR,
    MINUTE,
    MINUTES_IN_WORDS,
    NO_COUNT_BEHIND,
    NO_NUMBER_BEFORE,
    OF_HANDS,
    PART,
    SUCH,
    WHOLE_MINUTE,
)

STRETCHES = (
    # 2 d lost
    (
        DAYS,
        rf"(?<!half ){NO_NUMBER_BEFORE}(?P<days>{NUMBER}) ?{SUCH}(?:days?'?|day's|d)"
        rf"(?= ?(?:of )?(?:fishin|lost|lst|forfeit|wasted|gone|ashore))",
    ),
    # lost two days, half a day lost
    (DAYS, rf"(?P<behind>\b(?:lost|stopped|stop of) )(?P<days>{NUMBER}) days?(?!\w)(?! and)"),
    # two days mending
    (
        DAYS,
        rf"{NO_NUMBER_BEFORE}(?P<days>[2-9]|two|three|four|five) days?'?"
        rf"(?= (?:of )?(?:in (?:port|harbour) )?(?:mending|sewing)\b)",
    ),
    (
        DAYS,
        r"(?P<half_day>\bhalf (?:a |the )?day)(?:'s)?"
        r"(?= (?:lost|gone|wasted|no(?:t)? fishin))",
    ),
    (
        DAYS,
        r"(?P<behind>\b(?:lost|stopped) (?:the )?)"
        r"(?P<half_day>half (?:a |the |of (?:the )?)?day)(?!\w)",
    ),
    # 6 man-hours by two men; 4 men, 12 man-hours
    (
        MAN_HOURS,
        rf"{NO_NUMBER_BEFORE}(?P<man_hours>{NUMBER}) ?{MAN_HOUR}"
        rf"(?=,? (?:[a-z]+ ){{0,2}}(?P<hands>{NUMBER}) {OF_HANDS})",
    ),
    (
        MAN_HOURS,
        rf"(?P<behind>\b(?P<hands>{NUMBER}) {OF_HANDS}[^.;\d]{{0,16}})"
        rf"(?P<man_hours>{NUMBER}) ?{MAN_HOUR}",
    ),
    # hour to hour and a half, hour to two hours
    (
        OR_MORE,
        rf"{NO_NUMBER_BEFORE}(?:an? )?(?:hour|hr|oor)(?: to| or|,? maybe) (?:an? )?"
        rf"(?:hour|hr|oor) (?P<or_part>and a half|and a quarter)(?!\w)",
    ),
    (
        OR_MORE,
        rf"{NO_NUMBER_BEFORE}(?:an? )?(?:hour|hr|oor) to (?P<or_more>two|three) {HOUR}(?!\w)",
    ),
    # 2-3 hrs, 30 to 40 min
    (
        UNIT,
        rf"{NO_NUMBER_BEFORE}(?P<low>{NUMBER})\s?(?:-|to|or|tae|a|till?)\s?(?P<high>{NUMBER})\s?"
        rf"(?:(?P<of_hours>{HOUR})|{MINUTE})(?![\w/])",
    ),
    # hour or two
    (
        OR_MORE,
        rf"{NO_NUMBER_BEFORE}(?:an? )?(?:hour|hr|oor) or (?P<or_more>two|three)"
        rf"(?! (?:men|hands|lads)\b)(?!\w)",
    ),
    # 6 hrs maybe 7, 8 hours, or 10
    (
        OR_MORE,
        rf"{NO_NUMBER_BEFORE}(?P<low>{NUMBER})\s?(?P<of_hours>{HOUR}),? "
        rf"(?:or(?: maybe)?|maybe|perhaps) (?P<high>{NUMBER})(?: ?{HOUR})?(?= ?(?:$|[.,;!)]))",
    ),
    # 2 x 45 min
    (
        MINUTES,
        rf"{NO_NUMBER_BEFORE}(?P<times>\d) ?x ?(?P<minutes>\d{{1,3}}) ?{WHOLE_MINUTE}(?!\w)",
    ),
    # 1h30, 1 hr 30 min
    (
        RUN_ON,
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s?(?:{HOUR}|t)\s?"
        rf"(?:(?P<minutes>[0-5]\d)|(?P<few_minutes>\d)\s?{MINUTE}|(?<=[hr])(?P<five>5))"
        rf"(?:\s?{MINUTE})?(?![\w/.,:%]\w|\w)",
    ),
    # 1+45
    (PLUS, r"(?<![\d.,+])(?P<hours>\d)\+(?P<minutes>[0-5]\d)(?![\d+/])"),
    # 15 + 20 min
    (
        PLUS,
        rf"{NO_NUMBER_BEFORE}(?P<first_minutes>[1-5]?[05]) ?\+ ?(?P<minutes>[1-5]?[05]) ?"
        rf"(?:{MINUTE}(?!\w)|(?=$|[.,;]))",
    ),
    # half hour and ten mins
    (
        BOTH,
        rf"{NO_NUMBER_BEFORE}{PART}(?: an?)? {HOUR} (?:{AND} )?(?P<minutes>{NUMBER}) ?{MINUTE}"
        rf"(?!\w)",
    ),
    # 1 hr and 30 min, an hour twenty minutes
    (
        BOTH,
        rf"{NO_NUMBER_BEFORE}(?:(?P<hours>{NUMBER})\s?)?(?P<an_hour>{HOUR})\s?(?:{AND}\s?)?"
        rf"(?P<minutes>{NUMBER})\s?{MINUTE}(?!\w)",
    ),
    # an hour less five minutes
    (
        LESS,
        rf"{NO_NUMBER_BEFORE}(?:(?P<hours>{NUMBER})\s?)?(?P<an_hour>{HOUR}) less "
        rf"(?:(?:a )?(?P<less_a_quarter>quarter)|(?P<less>{NUMBER})(?: ?{MINUTE})?)(?!\w)",
    ),
    # hour and ten, one hour thirty five
    (
        HOURS,
        rf"{NO_NUMBER_BEFORE}(?:(?P<hours>{NUMBER})\s?)?(?P<an_hour>{HOUR})\s"
        rf"(?:{AND}\s)?{MINUTES_IN_WORDS}{NO_COUNT_BEHIND}",
    ),
    # hour and a half, 2 hrs and a quarter
    (
        PART_OF_HOUR,
        rf"{NO_NUMBER_BEFORE}(?:(?P<hours>{NUMBER})\s?)?(?P<an_hour>{HOUR})\s?{AND}\s?{PART}"
        rf"(?!\w)",
    ),
    # two hours a quarter
    (
        PART_OF_HOUR,
        rf"{NO_NUMBER_BEFORE}(?:(?P<hours>{NUMBER})\s?)?(?P<an_hour>{HOUR}) a "
        rf"(?P<part>quarter)(?!\w)",
    ),
    # 2 and a half hours, one and three quarter hours
    (
        PART_OF_HOUR,
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s(?:and|an|n|&)\s?(?:a\s)?"
        rf"(?P<part>{QUARTERS}|{HALF}|quarter)\s?{HOUR}(?!\w)",
    ),
    # 2 and a bit hours
    (
        A_BIT,
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s(?:and|an|n|&)\sa\s(?:wee )?(?P<part>bit)"
        rf"\s?(?:of\s)?{HOUR}(?!\w)",
    ),
    # 1 hr 3/4
    (
        PART_OF_HOUR,
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s?{HOUR}\s(?P<part>{FRACTION})(?![\w/])",
    ),
    # two hour half
    (
        PART_OF_HOUR,
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s?{HOUR}\s(?P<part>{HALF})"
        rf"(?= ?(?:$|[.,;!)]| lost| mend))",
    ),
    # half an hour, three quarters of an hour
    (
        PART_OF_HOUR,
        rf"(?<!\d )(?<!\d and ){NO_NUMBER_BEFORE}{PART}(?:\s(?:of|o))?(?:[\s-](?:a|an|n))?[\s-]?"
        rf"{HOUR}(?!\w)",
    ),
    # 2 hrs
    (HOURS, rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\+?[\s-]?{SUCH}{HOUR}(?!\w)"),
    # 45 min
    (
        MINUTES,
        rf"(?<!\d-){NO_NUMBER_BEFORE}(?P<minutes>{NUMBER})\+?[\s-]?{SUCH}{WHOLE_MINUTE}(?!\w)",
    ),
)
"""How skippers write a stretch of time with its unit."""

FORMS = (*FROM_CLOCK_TO_CLOCK, *STRETCHES, *SHORT_STRETCHES, *TIMES_OF_DAY)
"""How skippers write a time; what an earlier form has taken, a later one does not read again."""
