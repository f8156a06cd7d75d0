"""A note cut into clauses, and in each the items that mean something: words, phrases, times."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.lexicon import ALONE, Token, tokens
from pipeline.notes.times import stretches

if TYPE_CHECKING:
    from pipeline.notes.lexicon import Lexicon, Meanings, Phrase
    from pipeline.notes.times import Stretch

SENTENCE_ENDS = {".", ";", "!", "?", "|"}
BREAKS = {",", "-", "/"}
TURNS = {
    "but", "though", "tho", "however", "although", "yet", "then", "except", "still", "apart",
    "only",
}  # fmt: skip
"""Words after which a note may say the contrary."""

STOPS = SENTENCE_ENDS | BREAKS | TURNS
A_TIME = {"time": "words"}

JOINTS = re.compile(r"([/+&.-])")
"""What joins the words of a compound."""

IN_A_WORD = re.compile(r"\w['./&+-]\w")
"""Most notes hold no compound, and this tells so at once."""

LONGEST_SHORT_FORM = 5
"""So many letters at most before a full stop are an abbreviation: stbd., c.end."""

FULL_WORDS = {
    "belly", "wing", "wings", "bunt", "bunts", "bag", "bags", "bosom", "port", "poke", "sack",
    "leg",
    "legs", "float", "discs", "disc", "tail", "both", "left", "right", "kite", "seam", "seams",
    "roof", "gore", "arse", "sweep",
}  # fmt: skip
"""Short words that a full stop does not shorten."""

NET = {"net", "nets", "trawl", "twine", "mesh", "meshes", "netting", "panel", "gear", "her", "she"}

COMPARING = {"like", "lik", "size", "sz", "could"}
COMPARED_WITHIN = 5
"""So many words behind one of these, a thing is only compared with."""

PARTS_OF_A_FISH = {"wing", "belly"}
FISH_NEAR = 3
"""A wing so few words from a fish is the fish's own: skate wings."""


class Item(NamedTuple):
    """A word, phrase or time that means something.

    `at` and `end` count the note's words and signs, `start` and `stop` its letters; a time has
    no words. A `slip` is not spelt as the word that it is taken for.
    """

    meanings: Meanings
    at: int
    end: int
    start: int
    stop: int
    words: tuple[str, ...] = ()
    time: Stretch | None = None
    slip: bool = False

    @property
    def text(self) -> str:
        """Its words as they stand in the note."""
        return " ".join(self.words)

    def means(self, section: str, group: str | None = None) -> bool:
        """Whether it stands in the section of the word file, and there in the group."""
        return section in self.meanings and group in {None, self.meanings[section]}

    def follows(self, other: Item, within: int) -> bool:
        """Whether it stands after the other, with at most so many words between."""
        return 0 <= self.at - other.end <= within


class Clause:
    """What stands between two stops of a note, and of which sentence it is.

    It stands from the letter `start` to `stop`. `words` has its words by their place, `unknown`
    those that mean nothing to the lexicon, `by_section` its items by the sections that they stand
    in. It is `turned` if a but stands before it, and `asked` if a question mark ends it.
    """

    __slots__ = (
        "asked", "by_section", "items", "names_the_net", "note", "parts", "said", "sentence",
        "start", "stop", "things", "turned", "unknown", "words",
    )  # fmt: skip

    def __init__(self, note: str, sentence: int, start: int = 0, *, turned: bool = False) -> None:
        self.note = note
        self.sentence = sentence
        self.start = self.stop = start
        self.turned = turned
        self.asked = False
        self.items: list[Item] = []
        self.words: dict[int, str] = {}
        self.unknown: list[str] = []
        self.by_section: dict[str, list[Item]] = {}
        self.said: frozenset[str] = frozenset()
        self.parts: list[Item] = []
        self.things: list[Item] = []
        self.names_the_net = False

    def add(self, item: Item) -> None:
        """Take an item as the next."""
        self.items.append(item)
        by_section = self.by_section
        for section in item.meanings:
            if section in by_section:
                by_section[section].append(item)
            else:
                by_section[section] = [item]
        self.words.update(enumerate(item.words, start=item.at))
        self.stop = item.stop

    def of(self, section: str, group: str | None = None) -> list[Item]:
        """Its items that stand in the section of the word file, and there in the group."""
        found = self.by_section.get(section)
        if found is None:
            return []
        if group is None:
            return found
        return [item for item in found if item.meanings[section] == group]

    def after(self, item: Item) -> Item | None:
        """The item that comes next in the clause."""
        return next((other for other in self.items if other.at >= item.end), None)

    def close(self) -> None:
        """Gather what is asked of it often, once all of it is read.

        `said` are its words in no order, `parts` the parts of the net that it names but for the
        wings of a skate, `things` the doors and winches but for those that a hole is as big as.
        """
        self.said = frozenset(self.words.values())
        self.names_the_net = not self.said.isdisjoint(NET)
        if "part" in self.by_section:
            self.parts = self._parts_of_the_net()
        if "thing" in self.by_section:
            self.things = [thing for thing in self.of("thing") if not self.compares_with(thing)]

    def _parts_of_the_net(self) -> list[Item]:
        parts, fish = self.of("part"), self.of("fish")
        if not fish:
            return parts
        return [
            part
            for part in parts
            if part.meanings["part"] not in PARTS_OF_A_FISH
            or not any(abs(one.at - part.at) <= FISH_NEAR for one in fish)
        ]

    @property
    def text(self) -> str:
        """Its letters, from the first to the last."""
        return self.note[self.start : self.stop].strip()

    @property
    def first_word(self) -> str:
        """Its first word, or none."""
        return next(iter(self.words.values()), "")

    def compares_with(self, item: Item) -> bool:
        """Whether the item is only what something is compared with: the size of a fridge."""
        if self.said.isdisjoint(COMPARING):
            return False
        words = [self.words.get(at, "") for at in range(item.at - COMPARED_WITHIN - 1, item.at + 1)]
        return any(
            word in COMPARING and before not in {"looks", "looked", "look"} and behind != "be"
            for before, word, behind in zip(words, words[1:], words[2:], strict=False)
        )


def clauses_of(note: str, lexicon: Lexicon) -> list[Clause]:
    """The clauses of a plain note, in their order; those without a word left out."""
    found = _words_of(note, lexicon)
    times = stretches(note)
    here = Clause(note, 0)
    clauses = [here]
    at = 0
    while at < len(found):
        item = _time_at(found, at, times) if times else None
        if item is None:
            item = _phrase_at(found, at, lexicon)
        if item is not None:
            here.add(item)
            at = item.end
            continue
        token = found[at]
        word = token.word
        if word not in STOPS:
            here.words[at] = word
            here.unknown.append(word)
            here.stop = token.stop
        elif not _ends_a_short_form(token, at, here):
            here = _next_clause(here, token)
            clauses.append(here)
        at += 1
    told = [clause for clause in clauses if clause.words or clause.items]
    for clause in told:
        clause.close()
    return told


def _next_clause(clause: Clause, between: Token) -> Clause:
    """The clause that begins behind a stop or a but."""
    if between.word == "?":
        clause.asked = True
    sentence = clause.sentence + (between.word in SENTENCE_ENDS)
    return Clause(clause.note, sentence, between.stop, turned=between.word in TURNS)


def _ends_a_short_form(stop: Token, at: int, clause: Clause) -> bool:
    """Whether a full stop only ends the short form of a part or a side."""
    if stop.word != "." or not clause.items:
        return False
    last = clause.items[-1]
    if last.text in FULL_WORDS:
        return False
    short = last.end == at and last.stop - last.start <= LONGEST_SHORT_FORM
    return short and (last.means("part") or last.means("side"))


def _words_of(note: str, lexicon: Lexicon) -> list[Token]:
    """The words of a note, with compounds that nobody knows taken apart: belly/stbd."""
    if not IN_A_WORD.search(note):
        return tokens(note)
    found: list[Token] = []
    for token in tokens(note):
        word = token.word
        if word.isalpha() or len(word) == 1 or word[0].isdigit() or word in lexicon.phrases:
            found.append(token)
            continue
        start = token.start
        for piece in JOINTS.split(word):
            if piece:
                found.append(Token(piece, start, start + len(piece)))
            start += len(piece)
    return found


def _time_at(found: list[Token], at: int, times: list[Stretch]) -> Item | None:
    """The stretch of time that the word is in."""
    start = found[at].start
    time = next((time for time in times if time.start <= start < time.end), None)
    if time is None:
        return None
    end = at
    while end < len(found) and found[end].start < time.end:
        end += 1
    return Item(A_TIME, at, end, time.start, time.end, time=time)


def _phrase_at(found: list[Token], at: int, lexicon: Lexicon) -> Item | None:
    """The longest phrase of the lexicon that begins at the word."""
    known = lexicon.beginning_with(found[at].word)
    if known is None:
        return None
    second = found[at + 1].word if at + 1 < len(found) else ALONE
    for phrase in lexicon.likeliest(known, second):
        end = at + len(phrase.words)
        if end <= at + 2 or _stands_at(phrase, found, at, lexicon):
            here = found[at:end]
            words = tuple([token.word for token in here])
            slip = words != phrase.words and _is_a_slip(words, phrase.words)
            return Item(phrase.meanings, at, end, here[0].start, here[-1].stop, words, slip=slip)
    return None


def _is_a_slip(words: tuple[str, ...], phrase: tuple[str, ...]) -> bool:
    """Whether a word is spelt otherwise than its phrase, but for the s of more than one."""
    return any(
        word not in {known, known + "s", known + "'s"}
        for word, known in zip(words, phrase, strict=True)
    )


def _stands_at(phrase: Phrase, found: list[Token], at: int, lexicon: Lexicon) -> bool:
    """Whether the words behind the first two are those of the phrase, but for slips."""
    if at + len(phrase.words) > len(found):
        return False
    for known, token in zip(phrase.words[2:], found[at + 2 : at + len(phrase.words)], strict=True):
        if token.word != known and lexicon.mended(token.word) != known:
            return False
    return True
