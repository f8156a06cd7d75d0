"""How skippers write times of day, and from one to another, form by form."""

from __future__ import annotations

from pipeline.notes.time_needs import AM_OR_PM, CLOCK, COLON, FOUR
from pipeline.notes.time_words import (
    A_RANGE,
    HOUR_OF_DAY,
    NO_COUNT_BEHIND,
    NO_MEASURE_BEHIND,
    ON_THE_CLOCK,
    PAST_OR_TO,
    PLAIN_CLOCK,
    TIME_OF_DAY,
    TO_A_UNIT,
)

FROM_CLOCK_TO_CLOCK = (
    # 0600 until 0845
    (
        FOUR,
        rf"(?<![\d.,:])(?P<from>{TIME_OF_DAY})\s?(?:h|hrs)?\s?(?:-|~|to|tae|ta|till?|until)\s?"
        rf"(?P<to>{TIME_OF_DAY})(?!\d|[.,:]\d)",
    ),
    # 14.00/15.10
    (
        FOUR,
        r"(?<![\d.,:/])(?P<from>[0-2]?\d[.:][0-5]\d)/(?P<to>[0-2]?\d[.:][0-5]\d)(?![\d/]|[.,:]\d)",
    ),
    # 22-00 to 01-30
    (
        CLOCK,
        r"(?<![\d.,:/-])(?P<from>[0-2]\d-[0-5]\d) (?:to|till?|until) (?P<to>[0-2]\d-[0-5]\d)"
        r"(?![\d-])",
    ),
    # from 6 h to 7 h 30, 14h to 16h30
    (
        CLOCK,
        r"(?:(?<=from )|(?<=of )|(?<=de )|(?<=das )|(?<=til ))(?P<from>\d{1,2} ?h ?(?:[0-5]\d)?) ?"
        r"(?:-|to|a|as|à|às|till?|until) ?(?P<to>\d{1,2} ?h ?(?:[0-5]\d)?)(?!\w)",
    ),
    (
        CLOCK,
        r"(?<![\d.,:/-])(?P<from>(?:1[3-9]|2\d) ?h ?(?:[0-5]\d)?) ?(?:-|to) ?"
        r"(?P<to>\d{1,2} ?h ?(?:[0-5]\d)?)(?!\w)",
    ),
    # 18-20 sewing
    (
        CLOCK,
        r"(?<![\w.,:/-])(?P<from>[0-2]\d)-(?P<to>[0-2]\d)(?= (?:sew|mend|repair|lac|twine|on the))",
    ),
    # 4 pm to 7 pm, from 4 am to 5.30
    (
        AM_OR_PM,
        r"(?<![\w.,/:-])(?P<from_the>\d{1,2}(?:[:.][0-5]\d)? ?[ap]m) ?(?:-|to|till?|until) ?"
        r"(?P<to>\d{1,2}(?:[:.][0-5]\d)?(?: ?[ap]m)?|midnight|noon|midday)(?!\w|[.,:]\d)",
    ),
    # five to eight till gone ten, from 11 to quarter past 1
    (
        CLOCK,
        rf"(?<![\w.,/:-])(?:(?!{A_RANGE})(?P<from>{ON_THE_CLOCK}) ?(?:till?|until)"
        rf"|(?:(?<=from )|(?<=fae )|(?<=frm )|(?<=kl )|(?<=between )|(?<=fishing of )"
        rf"|(?<=mendin )(?!{TO_A_UNIT})|(?<=mending )(?!{TO_A_UNIT}))"
        rf"(?P<from_the>{ON_THE_CLOCK})"
        rf"(?: (?:in the|i the|at) \w+)? ?(?:-|to|tae|ta|and|til|till|until)(?: a)?"
        rf"|(?P<from_spoken>{PLAIN_CLOCK}) ?(?:-|to|tae|ta)"
        rf"|(?P<until_spoken>{TIME_OF_DAY}|{HOUR_OF_DAY}) ?(?:to|tae|ta)(?= (?:{PLAIN_CLOCK}))) ?"
        rf"(?:gone |near(?:ly)? |about |past |kl\.? )?(?P<to>{ON_THE_CLOCK}){NO_COUNT_BEHIND}",
    ),
    # till 2 from midnight, mended by six, having started at two
    (
        CLOCK,
        rf"(?P<behind>\b(?:until|till?|by|mended at|closed at) )(?P<to>{ON_THE_CLOCK})\)?,? ?\(?"
        rf"(?:from|fae|since|(?:having )?started|start|i started)(?: at| about| it at)? "
        rf"(?P<from>{ON_THE_CLOCK}){NO_COUNT_BEHIND}",
    ),
    # until a quarter to nine to put it right, starting at half five
    (
        CLOCK,
        rf"(?P<behind>\b(?:until|till?) (?:a |about |near(?:ly)? |gone )?)(?P<to>{ON_THE_CLOCK}) ?"
        rf"(?:,? ?[a-z']+){{0,6}}?,? (?:start(?:ed|ing)|began|beginning) (?:at |about )?"
        rf"(?P<from>{ON_THE_CLOCK}){NO_COUNT_BEHIND}",
    ),
    # since 14 and was ready 17.30; started menden at six an feenished at ten
    (
        CLOCK,
        rf"(?P<behind>\b(?:since|start(?:ed|it)?|began|begun|on it) (?:[a-z]+ ){{0,4}}?)"
        rf"(?P<from>{ON_THE_CLOCK})"
        rf"(?:,? [a-z]+){{0,2}},? (?:ready|done|f(?:in|een)ish(?:ed|ed it)?|complete|closed|"
        rf"(?:laced|sewn|sewed|mended)(?: up)?|(?:not )?done till?|till?|until) "
        rf"(?:at |by |kl |near(?:ly)? |about )?(?P<to>{ON_THE_CLOCK}){NO_COUNT_BEHIND}",
    ),
    # 9-1130, 4 to 5:30
    (
        FOUR,
        rf"(?<![\w.,/:-])(?P<from>{HOUR_OF_DAY}) ?(?:-|to|tae|til|till) ?"
        rf"(?P<to>{TIME_OF_DAY}|\d[:.][0-5]\d){NO_COUNT_BEHIND}",
    ),
    # 11pm to 3am
    (AM_OR_PM, r"(?<![\w.,/:-])(?P<of_day>\d{1,2}(?:[:.][0-5]\d)? ?[ap]m)(?!\w)"),
    # until 14h
    (
        CLOCK,
        r"(?P<behind>\b(?:until|till?|kl) )(?P<of_day>\d{1,2} ?h(?:[0-5]\d)?)(?!\w)",
    ),
)
"""From one time of day to another, and what can be nothing but a time of day."""

TIMES_OF_DAY = (
    (COLON, r"(?<![\d.,:])(?P<of_day>\d{1,2}:[0-5]\d)(?!\d|[.,:]\d)"),
    # 0640
    (FOUR, rf"(?<![\d.,:/])(?P<of_day>[0-2]\d[0-5]\d){NO_MEASURE_BEHIND}"),
    # half past six, at twenty to five, since 8
    (
        CLOCK,
        rf"(?<![\w.,/:-])(?:(?P<of_day>{PAST_OR_TO})|(?<=since )(?P<since>{ON_THE_CLOCK}))"
        rf"{NO_COUNT_BEHIND}",
    ),
)
"""What may be a time of day where it is nothing else."""
