"""How skippers write a stretch of time or a time of day, form by form.

What stands in a note is found by these; `times.py` makes hours of it.
"""

from __future__ import annotations

import re

from pipeline.notes.number_words import FRACTION, HALF, NUMBER, QUARTERS
from pipeline.notes.time_words import (
    A_RANGE,
    AND,
    HOUR,
    HOUR_OF_DAY,
    KWARTIER,
    MINUTE,
    MINUTES_IN_WORDS,
    NO_COUNT_BEHIND,
    NO_MEASURE_BEHIND,
    NO_NUMBER_BEFORE,
    ON_THE_CLOCK,
    PART,
    PAST_OR_TO,
    PLAIN_CLOCK,
    SUCH,
    TIME_OF_DAY,
    TO_A_UNIT,
    WHOLE_MINUTE,
)

(
    HOURS, MINUTES, UNIT, SHORT_MINUTES, SHORT_HOURS, NORSE, FOUR, COLON, MARK, DECIMAL, AM_OR_PM,
    LOST_NUMBER, OF_WHICH, DAYS, CLOCK, BOTH, PART_OF_HOUR, RUN_ON, OR_MORE, LESS, BOXED, OF_MEN,
    A_BIT,
) = (
    "hours", "minutes", "unit", "m", "t", "time", "0640", "6:40", "40'", "1.5", "pm", "lost 45",
    "of which", "days", "past six", "hours and minutes", "half", "1h30", "hour or two",
    "less ten", "mins: 70", "2 men 1.25", "and a bit",
)  # fmt: skip
"""What a note must hold, or none of a form can stand in it."""

OF_FIGURES = {
    SHORT_MINUTES: re.compile(r"\d ?m"),
    SHORT_HOURS: re.compile(r"[\d/] ?t\b"),
    FOUR: re.compile(r"[0-2]\d[:.h]?[0-5]\d|\d[:.][0-5]\d"),
    COLON: re.compile(r"\d:\d"),
    MARK: re.compile(r"\d ?'"),
    RUN_ON: re.compile(r"[hrstu]\.? ?\d"),
    BOXED: re.compile(r"(?:h|hours?|hrs|mins?|minutes)(?: lost| down)? ?[:=×-]? ?\d"),
    DECIMAL: re.compile(r"\d[.,]\d"),
    OF_MEN: re.compile(r"\d (?:m[ae]n|guys|lads|hands),? \d"),
    AM_OR_PM: re.compile(r"\d ?[ap]m"),
    LOST_NUMBER: re.compile(r"(?:lost|took| in) [1-5]"),
}
OF_HOURS = {
    PART_OF_HOUR: re.compile(
        r"haf|hauf|hlf|hal|harf|three parts|alf|demi|quarter|qtr|kwart|/[24]|me[dj]?ia"
    ),
    OR_MORE: re.compile(r" or |maybe|perhaps| to "),
    LESS: re.compile(r" less "),
    A_BIT: re.compile(r" bit "),
}
OF_WORDS = {
    NORSE: re.compile(r"(?:\d|\b(?:en|ein|tre|fire|halv)) time"),
    HOURS: re.compile(
        r"hour|h[ou]+e?rs?\b|hr|ooe?r|\d ?(?:hs?|ur?e?|std|klst|or[ae])(?![a-z])|"
        r"godz|jam|awr|uair|saat|tund|tim\b|t[ií]ma|\bh\b|ours|our\b|uur|uren|"
        r"tim[ae]r|stund|hora|heure|halvan|anderh"
    ),
    MINUTES: re.compile(
        r"min|meen|m[ií]n|(?:\b|\d)mnt?s?\b|m[iu][inu]{0,3}[eiu]?tt?e|kwartier|kvarter|"
        r"\d ?mts|munud|menit|n[oó]im"
    ),
    DAYS: re.compile(r"d(?:ay(?:s|'s)?)?'? (?:of )?(?:fish|lost|lst|forf|wast|gone|ashore)"),
    CLOCK: re.compile(
        r"past|clock|noon|midday|midnight|til|from|fae|frm|since|start|"
        r"began|begun|between| to |-| tae |kl "
    ),
    OF_WHICH: re.compile(r"\bo(?:f|) (?:which|this|that|them|it|'?em)|mendin"),
}
"""Most notes hold no time, and these tell so at once."""

FORMS = tuple(
    (needs, re.compile(form))
    for needs, form in (
        # 0600 until 0845
        (
            FOUR,
            rf"(?<![\d.,:])(?P<from>{TIME_OF_DAY})\s?(?:h|hrs)?\s?(?:-|to|till|until)\s?"
            rf"(?P<to>{TIME_OF_DAY})(?!\d|[.,:]\d)",
        ),
        # five to eight till gone ten, from 11 to quarter past 1
        (
            CLOCK,
            rf"(?<![\w.,/:-])(?:(?!{A_RANGE})(?P<from>{ON_THE_CLOCK}) ?(?:till?|until)"
            rf"|(?:(?<=from )|(?<=fae )|(?<=frm )|(?<=kl )|(?<=between )|(?<=fishing of )"
            rf"|(?<=mendin )(?!{TO_A_UNIT})|(?<=mending )(?!{TO_A_UNIT}))"
            rf"(?P<from_the>{ON_THE_CLOCK})"
            rf"(?: in the \w+)? ?(?:-|to|tae|ta|and|til|till|until)(?: a)?"
            rf"|(?P<from_spoken>{PLAIN_CLOCK}) ?(?:-|to|tae)"
            rf"|(?P<until_spoken>{TIME_OF_DAY}|{HOUR_OF_DAY}) ?(?:to|tae)(?= (?:{PLAIN_CLOCK}))) ?"
            rf"(?:gone |near(?:ly)? |about |past |kl\.? )?(?P<to>{ON_THE_CLOCK}){NO_COUNT_BEHIND}",
        ),
        # till 2 from midnight
        (
            CLOCK,
            rf"(?P<behind>\b(?:until|till?) )(?P<to>{ON_THE_CLOCK}) (?:from|fae) "
            rf"(?P<from>{ON_THE_CLOCK}){NO_COUNT_BEHIND}",
        ),
        # since 14 and was ready 17.30
        (
            CLOCK,
            rf"(?P<behind>\b(?:since|start(?:ed)?|began|begun) (?:[a-z]+ ){{0,4}}?)"
            rf"(?P<from>{ON_THE_CLOCK})"
            rf"(?:,? [a-z]+){{0,2}},? (?:ready|done|finished|complete) (?:at |by |kl )?"
            rf"(?P<to>{ON_THE_CLOCK}){NO_COUNT_BEHIND}",
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
        # 2 d lost
        (
            DAYS,
            rf"{NO_NUMBER_BEFORE}(?P<days>{NUMBER}) ?{SUCH}(?:days?'?|day's|d)"
            rf"(?= ?(?:of )?(?:fishin|lost|lst|forfeit|wasted|gone|ashore))",
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
        # 2 and a half hours, one and three quarter hours
        (
            PART_OF_HOUR,
            rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s(?:and|an|n|&)\s?(?:a\s)?"
            rf"(?P<part>{QUARTERS}|half|quarter)\s?{HOUR}(?!\w)",
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
            rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\s?{HOUR}\s(?P<part>{HALF})(?= ?(?:$|[.,;!)]))",
        ),
        # half an hour, three quarters of an hour
        (
            PART_OF_HOUR,
            rf"(?<!\d ){NO_NUMBER_BEFORE}{PART}(?:\s(?:of|o))?(?:[\s-](?:a|an|n))?[\s-]?"
            rf"{HOUR}(?!\w)",
        ),
        # 2 hrs
        (HOURS, rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER})\+?[\s-]?{SUCH}{HOUR}(?!\w)"),
        # 45 min
        (
            MINUTES,
            rf"(?<!\d-){NO_NUMBER_BEFORE}(?P<minutes>{NUMBER})\+?[\s-]?{SUCH}{WHOLE_MINUTE}(?!\w)",
        ),
        # 45m, where nothing says that it is a length
        (
            SHORT_MINUTES,
            rf"(?<!@ )(?<!at )(?<!x )(?<!x){NO_NUMBER_BEFORE}(?P<minutes>[1-5]\d|90)m"
            rf"(?=$| ?[.,;/)|]| (?:mend|md|mnd|rep|fix|sew|lac|lost|wast|to |down|late|job|on the"
            rf"|w/|x \d))",
        ),
        # 30 m lacing; time: 40 m
        (
            SHORT_MINUTES,
            rf"{NO_NUMBER_BEFORE}(?P<minutes>[1-5]?\d) m"
            rf"(?= (?:mend|sew|lacing|repair|lost|wasted))",
        ),
        (SHORT_MINUTES, r"(?P<behind>\b(?:time:?|in) )(?P<minutes>[1-9]\d?) ?m(?=\.?$)"),
        # 40'
        (
            MARK,
            rf"{NO_NUMBER_BEFORE}(?P<minutes>\d{{2,3}}) ?'"
            rf"(?=$| ?[^\w\d ]| (?:sew|mend|to |for |stop|lost|after))",
        ),
        # lost 45, swapped in 30
        (
            LOST_NUMBER,
            r"(?P<behind>\b(?:lost|took|(?:swapped|mended|sewn|sewed|fixed|done|repaired) in) )"
            r"(?P<minutes>[1-5][05])(?=$| ?[.,;!])",
        ),
        # lost 2 1/2
        (LOST_NUMBER, r"(?P<behind>\blost )(?P<hours>\d 1/2)(?= ?(?:$|[.,;]))"),
        # mending 3 of them
        (
            OF_WHICH,
            rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER}) o?f? ?(?:them|that|those|em|'em)"
            rf"(?= ?(?:mend|sew|rep))",
        ),
        (
            OF_WHICH,
            rf"(?P<behind>\bmendin?g? (?:was )?)(?P<hours>{NUMBER})(?= o?f? ?(?:them|that|it)\b)",
        ),
        # of this 1,5 was mending
        (
            OF_WHICH,
            rf"(?P<behind>\b(?:of|o) (?:this|that|which|them) )(?P<hours>{NUMBER})"
            rf"(?= (?:was |were )?(?:mend|bøt|sew|rep))",
        ),
        # et kvarter
        (MINUTES, rf"{NO_NUMBER_BEFORE}(?P<quarters>{NUMBER}|et|een) {KWARTIER}(?!\w)"),
        # halvannen time, 1 time
        (
            NORSE,
            rf"{NO_NUMBER_BEFORE}(?:(?P<hours>{FRACTION}|\d(?:[.,]\d)?|en|ein|tre|fire)"
            rf"|(?P<part>halv)) time(?= ?(?:$|[.,;]|with|to ))",
        ),
        (HOURS, r"(?P<hours>halvannen|anderhalf|halvanden) (?:time|uur)(?!\w)"),
        # T=00:35
        (
            COLON,
            r"(?P<behind>\b(?:t|time|rep|mend|md|mnd|mending|swap-out|lost|down|men|guys|lads|hands|sq)"
            r" ?[=:]? ?)"
            r"(?P<hours>\d{1,2}):(?P<minutes>[0-5]\d)(?!\d|[.,:]\d)",
        ),
        # H 1.30, mins: 70, lost hours 6
        (
            BOXED,
            r"(?P<behind>(?<!\d)(?<!\d )(?<!a )\b(?:hours?|hrs|h) ?[:=×]? ?)(?P<hours>\d{1,2})"
            r"[.:](?P<minutes>[0-5]\d)(?=$| ?[.,;|])",
        ),
        (
            BOXED,
            rf"(?P<behind>\b(?:lost|down) (?:hours|hrs) |(?<!\d )\b(?:hours|hrs) (?:lost|down):? "
            rf"|(?<!\d)(?<!\d )(?<!an-)(?<!en-)(?<!man )\b(?:hours?|hrs) ?[:=×] ?)"
            rf"(?P<hours>{NUMBER}){NO_COUNT_BEHIND}",
        ),
        (
            BOXED,
            rf"(?P<behind>(?<!\d)(?<!\d )\b(?:mins?|minutes) ?[:=×] ?)(?P<minutes>\d{{1,3}})"
            rf"{NO_COUNT_BEHIND}",
        ),
        # of which lacing 25
        (
            OF_WHICH,
            r"(?P<behind>\bof which (?:\w+ )?)(?P<minutes>[1-5][05])(?= ?(?:$|[.,;]))",
        ),
        (
            OF_WHICH,
            rf"(?P<behind>\bof which )(?P<hours>{NUMBER})"
            rf"(?= (?:was |were )?(?:\w+ to )?(?:rep|mend|sew|lac))",
        ),
        # 2x2h, two men for two hours
        (HOURS, rf"(?<=\dx)(?P<hours>\d(?:[.,]\d+)?) ?{HOUR}(?!\w)"),
        # fixed in 1.75
        (
            DECIMAL,
            r"(?P<behind>\b(?:fixed|mended|done|sewn|sewed) in )(?P<hours>\d[.,]\d+)"
            r"(?= ?(?:$|[.;!]))",
        ),
        # repair 2 t
        (
            SHORT_HOURS,
            rf"(?P<behind>\b(?:repair|reparasjon|bøting|mending|sewing) )"
            rf"(?P<hours>{NUMBER}) ?t(?!\w)",
        ),
        # a hole, 2 t
        (
            SHORT_HOURS,
            rf"(?<!overweight, )(?<!c. )(?<!ca. )(?<!est. )(?<!abt. )(?<!approx. )"
            rf"(?:(?<=[,.:;] )|(?<=man )|(?<=men ))"
            rf"(?P<hours>[1-5]|{FRACTION}|[0-5][.,]\d+) t(?=$|\.$)",
        ),
        # 0:35
        (COLON, r"(?<![\d.,:])(?P<hours>0):(?P<minutes>[0-5]\d)(?!\d|[.,:]\d)"),
        # an hour, with its number in no words
        (
            HOURS,
            r"(?<![\w.,/:-])(?<!man )(?<!\d )(?<!\dh )"
            r"(?P<an_hour>hour|oor(?= ?(?:$|[.,;!)&]|lost|an?\b|n\b|tae|wi|mend|sew|shew|atween))"
            r"|'our|hr(?=$|[,;]|'s work| lost))(?![\w-])",
        ),
        # a decimal behind mend or lost
        (
            DECIMAL,
            r"(?P<behind>\b(?:mend(?:ing|ed)?|mnd|lost|time|rep(?:air(?:ed|s)?)?|fix(?:ed)?|down)"
            r" ?[:=-]? ?)(?P<hours>\d{1,2}[.,]\d+)(?![\w.,]?\w| ?(?:m|km|t|kg|h|mile))",
        ),
        # a decimal before them
        (DECIMAL, rf"{NO_NUMBER_BEFORE}(?P<hours>\d{{1,2}}[.,]\d+)(?= (?:lost|mend))"),
        # fixed it. 1:15
        (
            COLON,
            r"(?P<behind>[.,;] )(?P<hours>[1-5]):(?P<minutes>[0-5]\d)(?=\.?$)",
        ),
        # 1:30 mend, 2:10 sewing, 3:15 lost; new cod end on in 1:30
        (
            COLON,
            r"(?<![\d.,:])(?P<hours>\d):(?P<minutes>[0-5]\d)"
            r"(?= ?(?:mend|sew|repair|lost|dead|on the clock|with [a-z]|w/? ))",
        ),
        (
            COLON,
            r"(?P<behind>\b(?:on|back|done|sewn|up|fixed) in )"
            r"(?P<hours>\d):(?P<minutes>[0-5]\d)(?!\d)",
        ),
        # 00:40 repair
        (COLON, r"(?<![\d.,:])(?P<hours>00):(?P<minutes>[0-5]\d)(?= ?(?:rep|mend|sew|lost))"),
        # 2 men 4 1/2, 2 guys 1.25
        (
            OF_MEN,
            r"(?P<behind>\b\d (?:men|man|guys|lads|hands),? )"
            r"(?P<hours>[1-9]\.(?:25|5|75)|[1-9] (?:1/2|1/4|3/4))"
            r"(?=\.?$|[,;])",
        ),
        # burst both wing ends. 40 m; bit right through / 5m
        (SHORT_MINUTES, r"(?P<behind>[.,;/] (?:abt |about )?)(?P<minutes>[1-9]\d?) ?m(?=\.?$)"),
        # one hole. 5'
        (MARK, r"(?P<behind>[.,;/] )(?P<minutes>\d) ?'(?=[.!]?$)"),
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
)
"""How skippers write a time; what an earlier form has taken, a later one does not read again."""
