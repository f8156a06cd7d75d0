"""Whether a word of harm is denied: by a not before it, a none behind it, a nought in its box."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pipeline.notes.clauses import Clause, Item

DENIAL_REACHES = 7
"""A not denies harm so many words further on at most."""
NOTHING_LEFT = 3
"""Not much belly left is harm."""
BEGINS_ANEW = {"is", "was", "has", "are", "were", "had", "it", "he"}
"""Behind an and, words with which something new is said."""
NAMES_OF_A_BOX = {"dmg", "damage", "damaged", "dam", "damages"}
LABELS = NAMES_OF_A_BOX | {
    "torn", "tear", "tears", "rip", "rips", "holes", "hole", "defects", "failure", "ripped",
    "burst",
}  # fmt: skip
"""Words that may only be the name of a box on the form: dmg: none."""
ANSWERED_NO = {"n", "no", "none", "nil", "0", "zero", "nae", "nee", "nei", "neg", "negative"}
NO_SUCH = {
    "surprise", "wonder", "doubt", "odds", "mistake", "question", "idea", "small", "ordinary",
    "little", "mean", "just", "only", "joke", "fun", "secret", "use", "point", "chance", "choice",
}  # fmt: skip
DEGREES = {"so", "too", "very", "that", "as", "sae", "such", "a", "the"}
SIZES = {
    "big",
    "bad",
    "large",
    "great",
    "small",
    "long",
    "danger",
    "dangerous",
    "serious",
    "lot",
    "muckle",
}
"""No small hole, not so big holes, not a lot to tell: the hole is there."""
SEE_ELSEWHERE = re.compile(
    r"(?:see|as|tb[acd]|t\.b\.[acd]|pending|unknown|unk|refer|n/?a|later|\?)\b|\?"
)
NOUGHT = {"0", "zero"}
UPPER_BOX = re.compile(r" n(?=$|[;,.|/])")
"""Torn n; lost 0: a box of a form without its colon."""
SENTENCE_END = re.compile(r"[;|!?]|\.(?!\d)")
NOUGHT_LAST = re.compile(
    r"^ ?(?:class|index|code|score|level|grade|net)?\b[^,]*?\b0(?:/\d+)?(?=,|$)"
)
"""Damage class 0; damage index (0-5): 0; damage 0/10."""


def is_label(item: Item, clause: Clause) -> bool:
    """Whether it is the name of a box of the form."""
    return item.text in LABELS and rest_of(item, clause).lstrip().startswith((":", "="))


def is_empty_box(item: Item, clause: Clause) -> bool:
    """Whether it is the name of a box that is empty, or says to look elsewhere: dmg: see over."""
    if not is_label(item, clause):
        return False
    within = rest_of(item, clause).strip(" :=.")
    return not within or SEE_ELSEWHERE.match(within) is not None


def rest_of(item: Item, clause: Clause) -> str:
    """The note behind the item."""
    return clause.note[item.stop :]


def denied(item: Item, clause: Clause) -> bool:
    """Whether a not before the harm, or a none behind it, denies it."""
    if is_label(item, clause) and clause.of("sound") and not clause.parts:
        return True
    if clause.words.get(item.at - 1) in NOUGHT:
        return True
    if _boxed_no(item, clause):
        return True
    after = clause.after(item)
    answered = after is not None and after.means("sound", "bare") and after.follows(item, 1)
    if answered and after is not None and after.end > max(clause.words):
        return True
    nots = [
        no
        for no in clause.of("not")
        if not (_ends_before(no, item, clause) or is_of_another_word(no, clause))
    ]
    if item.text == "left" and any(item.follows(no, NOTHING_LEFT) for no in nots):
        return False
    return any(0 < item.at - no.at <= DENIAL_REACHES for no in nots)


def is_of_another_word(no: Item, clause: Clause) -> bool:
    """Whether the not is of the word behind it: no surprise she let go; not so big a hole."""
    behind = no.end + (clause.words.get(no.end) in {"no", "nae"})
    first, second = clause.words.get(behind, ""), clause.words.get(behind + 1, "")
    return first in NO_SUCH or (first in DEGREES and second in SIZES)


def _boxed_no(item: Item, clause: Clause) -> bool:
    """Whether it is the name of a box with a no or a nought in it: dmg: none; damage index 0."""
    rest = rest_of(item, clause)
    boxed = item.text in NAMES_OF_A_BOX or is_label(item, clause)
    answer = rest.lstrip(" :=").split(" ")[0].strip(",.;|/")
    if (boxed and answer in ANSWERED_NO) or (answer == "n" and UPPER_BOX.match(rest)):
        return True
    in_the_box = SENTENCE_END.split(rest, maxsplit=1)[0]
    return item.text in NAMES_OF_A_BOX and NOUGHT_LAST.search(in_the_box) is not None


def _ends_before(no: Item, harm: Item, clause: Clause) -> bool:
    """Whether an and is, and was ends what the not denies: could not hold it and is burst."""
    return any(
        clause.words.get(at) in {"and", "an", "&"} and clause.words.get(at + 1) in BEGINS_ANEW
        for at in range(no.end, harm.at)
    )
