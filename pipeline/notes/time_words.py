"""The words of a time: its units with their slips, parts of an hour, and times of day.

`time_forms.py` puts them together.
"""

from __future__ import annotations

import re

from pipeline.notes.number_words import FRACTION, HALF, QUARTERS

NO_NUMBER_BEFORE = r"(?<!\w)(?<!\d[.,/:])"
HOUR = (
    r"(?:h[ou]{0,3}rs?|hr\.|h|'ours?|ooe?rs?|oue?rs|(?<=\d )our|u|uur|uren?|ure|timer|"
    r"timar|tim|t[ií]m[ai]r?|stunden?|std\.?|horas?|heures?|hs|hou+ers?|klst|godz\w{0,3}\.?|jam|awr|uair|"
    r"saat|tundi?|tuntia?|(?<=\d )or[ae])"
)
SUCH = (
    "(?:(?:more|lost|wasted|good|guid|whole|hale|full|long|lang|solid|clear|odd|bloody|further|"
    "extra) )?"
)
"""Two good hours are no more than two."""
WHOLE_MINUTE = (
    r"(?:m[inu]{1,4}[eiu]?tt?e?[nr]?s?|meens?|mintues?|m[ií]ns?|min\.|meenits?|mns?|minutos?|"
    r"mts\.?|munud|menit|n[oó]im[eé]ad)"
)
"""Hours and minutes with their slips: huors, ooers, miutes, mnts; Norse, Dutch and the like."""
KWARTIER = r"(?:kwartier|kvarter)"
MINUTE = rf"(?:{WHOLE_MINUTE}|m)"
AND = r"(?:,|and|an'?|n|&|\+|'n'?|og|en|y|e)"
PART = rf"(?:a |the )?(?P<part>{QUARTERS}|{HALF}|quarter|qtr|kwart|{FRACTION})"
TENS_OF_MINUTES = "(?:twenty|twinty|twenny|thirty|therty|forty|fourty|fifty)"
MINUTES_IN_WORDS = (
    rf"(?P<minutes>five and twenty|{TENS_OF_MINUTES}(?:[- ]five)?|five|ten|fifteen|[1-5]?[05])"
)
MINUTES_ALONE = (
    rf"(?P<minutes>five and twenty|{TENS_OF_MINUTES}(?:[- ]five)?|ten|fifteen|[1-5][05]|5)"
)
"""Minutes without a unit; five in words may be hours."""
MAN_HOUR = r"(?:m[ae]nn?[- ]?(?:hours?|hrs?|stunden))(?!\w)"
OF_HANDS = r"(?:m[ae]nn?|hands|lads|of us|guys|b'ys)\b"
BEHIND_SHORT_HOURS = (
    r",? \d (?:pers|m[ae]n)|,? (?:for|by) \d|,? to (?:sew|splice|mend)| mending|"
    r" stop\b| late\b| no fish| work\b| time wasted"
)
"""Behind 2 t these say that it is Norse for hours, and no weight."""
TIME_OF_DAY = r"[0-2]\d[:.h]?[0-5]\d"
NO_MEASURE_BEHIND = r"(?!\d|[.,:/]\d|\s?(?:m|kg|kilos?|meshes|boxes|fm|w)\b)"
NO_COUNT_BEHIND = (
    r"(?!\w)(?! ?(?:-|to (?:\d|[a-z]+ (?:mesh|bars|fath))|m\b|mesh|bars?\b|men\b|hands?\b|"
    r"lads?\b|hds\b|fathom|fm\b|f(?:oo|ee)t\b|kg|box|ton|t\b|metres?\b|meters?\b|yards?\b|x\b|%|[.,/:]\d))"
)
"""Behind a number that may be minutes or an o'clock: nothing that it may count instead."""

OF_A_DAY = (
    "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|"
    "ane|yin|twa|fower|sax|seeven|eicht|aucht|twal"
)
HOUR_OF_DAY = rf"(?:{OF_A_DAY}|1[0-2]|[1-9])"
PAST_OR_TO = (
    rf"(?:(?:half past|quarter (?:past|to)|(?:five|ten|twenty|twenty[- ]five) (?:past|to)"
    rf"|[1-5]?[05] past)"
    rf" {HOUR_OF_DAY}|{HOUR_OF_DAY} o'?clock|noon|midday|midnight)"
)
ON_THE_CLOCK = (
    rf"(?:{PAST_OR_TO}|half {HOUR_OF_DAY}|{TIME_OF_DAY}|\d[:.][0-5]\d|[01]\d|2[0-4]"
    rf"|0?{HOUR_OF_DAY})(?![\w:])"
)
TO_A_UNIT = rf"\S+ ?(?:to|-|til|or) ?\S+ ?(?:{HOUR}|{MINUTE})(?!\w)"
A_RANGE = rf"\d{{1,2}} (?:till?|until) \d{{1,2}} ?(?:{HOUR}|{MINUTE})(?!\w)"
PLAIN_CLOCK = rf"(?:{PAST_OR_TO}|half {HOUR_OF_DAY}|\d[:.][0-5]\d|twal)(?![\w:])"
"""What can be nothing but a time of day."""
SPOKEN_HOUR = re.compile(
    rf"(?:(?P<past>half past|half|quarter past|quarter to|\S+(?: five)? past|\S+(?: five)? to) )?"
    rf"(?P<hour>{HOUR_OF_DAY}|noon|midday|midnight)(?: o'?clock)?"
)
