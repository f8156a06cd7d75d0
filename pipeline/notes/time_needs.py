"""What a note must hold, or no time of a form can stand in it.

Most notes hold none, and these tell so at once; the forms are in `time_forms.py`.
"""

from __future__ import annotations

import re

(
    HOURS, MINUTES, UNIT, SHORT_MINUTES, SHORT_HOURS, NORSE, FOUR, COLON, MARK, DECIMAL, AM_OR_PM,
    LOST_NUMBER, OF_WHICH, DAYS, CLOCK, BOTH, PART_OF_HOUR, RUN_ON, OR_MORE, LESS, BOXED, OF_MEN,
    A_BIT, PLUS, MAN_HOURS,
) = (
    "hours", "minutes", "unit", "m", "t", "time", "0640", "6:40", "40'", "1.5", "pm", "lost 45",
    "of which", "days", "past six", "hours and minutes", "half", "1h30", "hour or two",
    "less ten", "mins: 70", "2 men 1.25", "and a bit", "1+45", "6 man-hours",
)  # fmt: skip
"""The needs by name."""

OF_FIGURES = {
    SHORT_MINUTES: re.compile(r"\d ?m"),
    SHORT_HOURS: re.compile(r"[\d/] ?t\b"),
    FOUR: re.compile(r"[0-2]\d[:.h]?[0-5]\d|\d[:.][0-5]\d"),
    PLUS: re.compile(r"\d ?\+ ?\d"),
    MAN_HOURS: re.compile(r"m[ae]nn?[- ]?(?:h|stund)"),
    COLON: re.compile(r"\d:\d"),
    MARK: re.compile(r"\d ?'"),
    RUN_ON: re.compile(r"[hrstu]\.? ?\d"),
    BOXED: re.compile(r"(?:h|hours?|hrs|mins?|minutes)(?: lost| down)? ?[:=×-]? ?\d"),
    DECIMAL: re.compile(r"\d[.,]\d"),
    OF_MEN: re.compile(r"\d (?:m[ae]n|guys|lads|hands),? \d"),
    AM_OR_PM: re.compile(r"\d ?[ap]m"),
    LOST_NUMBER: re.compile(
        r"(?:lost|took| in|sewn|sewed|laced?|sew up|patch(?:ed)?|spliced?|stitched|reswaged) [1-5]|"
        r"\d to [a-z]"
    ),
}
OF_HOURS = {
    PART_OF_HOUR: re.compile(
        r"haf|hauf|hlf|hal|harf|three parts|alf|demi|quarter|qtr|kwart|/[234]|me[dj]?ia"
    ),
    OR_MORE: re.compile(r" or |maybe|perhaps| to "),
    LESS: re.compile(r" less "),
    A_BIT: re.compile(r" bit\b"),
}
OF_WORDS = {
    NORSE: re.compile(r"(?:\d|\b(?:en|ein|tre|fire|halv)) time"),
    HOURS: re.compile(
        r"hour|h[ou]+e?rs?\b|hr|ooe?r|\d ?(?:hs?|ur?e?|klst|or[ae])(?![a-z])|\bstd\b|\dstd\b|"
        r"godz|jam|awr|uair|saat|tund|tunti|tim\b|t[ií]m[ai]|\bh\b|ours|our\b|uur|uren|"
        r"tim[ae]r|stund|hora|heure|halvan|anderh"
    ),
    MINUTES: re.compile(
        r"min|meen|m[ií]n|(?:\b|\d)mnt?s?\b|m[iu][inu]{0,3}[eiu]?tt?e|kwartier|kvarter|"
        r"\d ?mts|munud|menit|n[oó]im"
    ),
    DAYS: re.compile(
        r"d(?:ay(?:s|'s)?)?'? (?:of )?(?:fish|lost|lst|forf|wast|gone|ashore|no|in |mend|"
        r"sew)"
        r"|(?:lost|stopped|stop of) (?:the )?(?:half )?(?:of )?\S+ day"
    ),
    CLOCK: re.compile(
        r"past|clock|noon|midday|midnight|til|from|fae|frm|since|start|"
        r"began|begun|between| to |-| tae |kl "
    ),
    LOST_NUMBER: re.compile(r" in (?:te|fi|tw|th|fo)|y(?:[- ]five)? to "),
    OF_WHICH: re.compile(r"\bo(?:f|) (?:which|this|that|them|it|'?em)|mendin"),
}
"""By what each is seen: in notes with a figure, in notes that speak of hours, in all."""
