"""How skippers write a stretch of time with a letter or a sign for its unit, or none."""

from __future__ import annotations

from pipeline.notes.number_words import FRACTION, NUMBER
from pipeline.notes.time_needs import (
    BOXED,
    COLON,
    DECIMAL,
    HOURS,
    LOST_NUMBER,
    MARK,
    MINUTES,
    NORSE,
    OF_MEN,
    OF_WHICH,
    SHORT_HOURS,
    SHORT_MINUTES,
)
from pipeline.notes.time_words import (
    BEHIND_SHORT_HOURS,
    HOUR,
    KWARTIER,
    MINUTES_ALONE,
    NO_COUNT_BEHIND,
    NO_NUMBER_BEFORE,
    OF_HANDS,
    TENS_OF_MINUTES,
)

SHORT_STRETCHES = (
    # 45m, where nothing says that it is a length
    (
        SHORT_MINUTES,
        rf"(?<!@ )(?<!at )(?<!x )(?<!x){NO_NUMBER_BEFORE}(?P<minutes>[1-5]\d|90)m"
        rf"(?=$| ?[.,;/)|]| (?:mend|md|mnd|rep|fix|sew|lac|lost|wast|to |down|late|job|on the"
        rf"|w/|x \d|splic|relac|clos|(?:o' )?twine|wait|untwist|no fish|away\b|of our|rig\b|wi "
        rf"|wth |with [a-z]|me an?d? |two of|both jobs|(?:\d|two|twa|three) ?{OF_HANDS}))",
    ),
    # 30 m lacing; time: 40 m
    (
        SHORT_MINUTES,
        rf"{NO_NUMBER_BEFORE}(?P<minutes>[1-5]?\d) m"
        rf"(?= (?:mend|sew|lacing|repair|lost|wasted))",
    ),
    (SHORT_MINUTES, r"(?P<behind>\b(?:time:?|in) )(?P<minutes>[1-9]\d?) ?m(?=\.?$)"),
    (SHORT_MINUTES, r"(?P<behind>\btime: )(?P<minutes>[1-9]\d?) ?m(?!\w)"),
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
    # sewn 15, laced in ten, patch 20
    (
        LOST_NUMBER,
        rf"(?P<behind>\b(?:(?:sewn|sewed|resewn|relaced?|laced|sew up|spliced?|stitched|patched"
        rf"|patch|reswaged)(?: in)?|(?:done|fixed|mended|sewn up|repaired|changed|did (?:it|'un up)"
        rf"|swapped|put right) in) ){MINUTES_ALONE}(?=$| ?[.,;!&]| (?:by|with|wi|w/) )",
    ),
    # 40 to splice
    (
        LOST_NUMBER,
        rf"{NO_NUMBER_BEFORE}(?<!to )(?<!- )(?P<minutes>[1-5][05]|{TENS_OF_MINUTES}(?:[- ]five)?)"
        rf"(?= to (?:sew|mend|lace|splice|close|fix|stitch|repair|redo|put (?:it|her|right|a|to)))",
    ),
    # lost 2 1/2
    (LOST_NUMBER, r"(?P<behind>\blost )(?P<hours>\d 1/2)(?= ?(?:$|[.,;]))"),
    # mending 3 of them
    (
        OF_WHICH,
        rf"{NO_NUMBER_BEFORE}(?P<hours>{NUMBER}) o?f? ?(?:them|that|those|em|'em)"
        rf"(?= ?(?:mend|sew|rep|with (?:the )?needle))",
    ),
    (
        OF_WHICH,
        rf"(?P<behind>\bmend(?:ing?|in|ed)? (?:was )?)(?P<hours>{NUMBER})"
        rf"(?= o?f? ?(?:them|that|it)\b)",
    ),
    # of this 1,5 was mending
    (
        OF_WHICH,
        rf"(?P<behind>\b(?:of|o) (?:this|that|which|them) )(?P<hours>{NUMBER})"
        rf"(?= (?:was |were )?(?:mend|bøt|sew|rep))",
    ),
    # of which mending one and a half
    (
        OF_WHICH,
        rf"(?P<behind>\bof which (?:mending|sewing|repairs?) (?:was |took |accounted for )?)"
        rf"(?P<hours>{NUMBER})(?= ?(?:$|[.,;]))",
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
        r"(?P<behind>\b(?:t|time|rep|repair|mend|mended|md|mnd|(?<!finish )(?<!finished )mending"
        r"|swap-out|down|men|guys|lads|hands|sq|sewing|sewn|fix(?:ed)?|pers) ?[=:?]? ?)"
        r"(?P<hours>0?\d):(?P<minutes>[0-5]\d)(?!\d|[.,:]\d)",
    ),
    (
        COLON,
        r"(?P<behind>\b(?:lost|lose) ?[=:?]? ?)(?P<hours>\d{1,2}):(?P<minutes>[0-5]\d)"
        r"(?!\d|[.,:]\d)",
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
    # hrs 2, mins 20
    (
        BOXED,
        r"(?P<behind>(?<!\d)(?<!\d )(?<!man )\bhrs )(?P<hours>[1-9](?:[.,]\d)?)"
        r"(?= ?(?:$|[.,;]|lost|all |mins \d))",
    ),
    (
        BOXED,
        r"(?P<behind>(?<!\d)(?<!\d )\bmins )(?P<minutes>[1-5]?[05])"
        r"(?= ?(?:$|[.,;]|lost|me |all ))",
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
    # 2,5 t, 3 men; 1/2 t to sew; stopped 3 t
    (
        SHORT_HOURS,
        rf"(?<!overweight, )(?<!c. )(?<!ca. )(?<!est. )(?<!abt. )(?<!approx. ){NO_NUMBER_BEFORE}"
        rf"(?P<hours>{FRACTION}|[0-5][.,](?:5|25|75)|[1-5] 1/2) t"
        rf"(?=\.?$| lost|{BEHIND_SHORT_HOURS})",
    ),
    (
        SHORT_HOURS,
        rf"{NO_NUMBER_BEFORE}(?P<hours>[1-9]) t(?={BEHIND_SHORT_HOURS})",
    ),
    (
        SHORT_HOURS,
        r"(?P<behind>\b(?:stop(?:ped)?|wait(?:ed|ing)?|repair(?:ed)?|mended) )(?P<hours>[1-9]) t"
        r"(?=\.?$|[,;]| of it| on )",
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
        r" ?[:=?-]? ?)(?P<hours>\d{1,2}[.,]\d+)(?![\w.,]?\w| ?(?:m|km|t|kg|h|mile))",
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
)
"""What an hour or a minute may be where the note holds no more: 45m, 40', 2 t, sewn 15, 0:35."""
