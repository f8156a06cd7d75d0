"""A note cut into clauses, and in each the items that mean something: words, phrases, times."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.lexicon import Meanings
from pipeline.notes.times import stretches

if TYPE_CHECKING:
    from pipeline.notes.lexicon import Lexicon, Opening, Phrase, Token
    from pipeline.notes.times import Stretch

SENTENCE_ENDS = {".", ";", "!", "?", "|"}
BREAKS = {",", "-", "/"}
TURNS = {
    "but", "though", "tho", "however", "although", "yet", "then", "except", "still", "apart",
    "only",
}  # fmt: skip
"""Words after which a note may say the contrary."""

STOPS = SENTENCE_ENDS | BREAKS | TURNS
A_TIME = Meanings(time="words")

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

    `at` and `end` count the note's words and signs, `start` and `stop` its letters. `words` and
    `text` are as they stand in the note; a time has none. A `slip` is not spelt as the word that it
    is taken for.
    """

    meanings: Meanings
    at: int
    end: int
    start: int
    stop: int
    words: tuple[str, ...] = ()
    text: str = ""
    slip: bool = False
    time: Stretch | None = None

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
    in, `in_order` its items and unknown words as they come. It is `turned` if a but stands before
    it, and `asked` if a question mark ends it.
    """

    __slots__ = (
        "asked", "by_section", "in_order", "items", "names_the_net", "note", "parts", "said",
        "sentence", "start", "stop", "things", "turned", "unknown", "words",
    )  # fmt: skip

    def __init__(self, note: str, sentence: int, start: int = 0, *, turned: bool = False) -> None:
        self.note = note
        self.sentence = sentence
        self.start = self.stop = start
        self.turned = turned
        self.asked = False
        self.items: list[Item] = []
        self.in_order: list[Item | str] = []
        self.words: dict[int, str] = {}
        self.unknown: list[str] = []
        self.by_section: dict[str, list[Item]] = {}

    def add(self, item: Item) -> None:
        """Take an item as the next."""
        self.items.append(item)
        self.in_order.append(item)
        by_section = self.by_section
        for section in item.meanings:
            if section in by_section:
                by_section[section].append(item)
            else:
                by_section[section] = [item]
        at = item.at
        for word in item.words:
            self.words[at] = word
            at += 1
        self.stop = item.stop

    def add_unknown(self, word: str, at: int, start: int) -> None:
        """Take a word that means nothing as the next."""
        self.words[at] = word
        self.in_order.append(word)
        self.unknown.append(word)
        self.stop = start + len(word)

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
        for other in self.items:
            if other.at >= item.end:
                return other
        return None

    def close(self) -> None:
        """Gather what is asked of it often, once all of it is read.

        `said` are its words in no order, `parts` the parts of the net that it names but for the
        wings of a skate, `things` the doors and winches but for those that a hole is as big as.
        """
        self.said = frozenset(self.words.values())
        self.names_the_net = not self.said.isdisjoint(NET)
        self.parts = self._parts_of_the_net() if "part" in self.by_section else []
        self.things = self._things_not_compared() if "thing" in self.by_section else []

    def _things_not_compared(self) -> list[Item]:
        return [thing for thing in self.of("thing") if not self.compares_with(thing)]

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
    tokens, starts = _tokens_of(note, lexicon)
    times = stretches(note)[::-1]
    here = Clause(note, 0)
    clauses = [here]
    behind = 0
    for at, (word, _, _, opening) in enumerate(tokens):
        if at < behind:
            continue
        timed = times and times[-1].start <= starts[at]
        item = _time_at(starts, at, times) if timed else None
        if item is None and opening is not None:
            item = _phrase_at(tokens, starts, at, opening)
        if item is not None:
            here.add(item)
            behind = item.end
        elif word not in STOPS:
            here.add_unknown(word, at, starts[at])
        elif not _ends_a_short_form(word, at, here):
            here = _next_clause(here, word, starts[at])
            clauses.append(here)
    told = [clause for clause in clauses if clause.words or clause.items]
    for clause in told:
        clause.close()
    return told


def _tokens_of(note: str, lexicon: Lexicon) -> tuple[list[Token], list[int]]:
    """The words and signs of a note, and at which letter each begins."""
    tokens: list[Token] = []
    starts: list[int] = []
    at = 0
    for piece in note.split(" "):
        for token in lexicon.tokens_in[piece]:
            tokens.append(token)
            starts.append(at + token.place)
        at += len(piece) + 1
    return tokens, starts


def _next_clause(clause: Clause, stop: str, start: int) -> Clause:
    """The clause that begins behind a stop or a but."""
    if stop == "?":
        clause.asked = True
    sentence = clause.sentence + (stop in SENTENCE_ENDS)
    return Clause(clause.note, sentence, start + len(stop), turned=stop in TURNS)


def _ends_a_short_form(stop: str, at: int, clause: Clause) -> bool:
    """Whether a full stop only ends the short form of a part or a side."""
    if stop != "." or not clause.items:
        return False
    last = clause.items[-1]
    if last.text in FULL_WORDS:
        return False
    short = last.end == at and last.stop - last.start <= LONGEST_SHORT_FORM
    return short and (last.means("part") or last.means("side"))


def _time_at(starts: list[int], at: int, times: list[Stretch]) -> Item | None:
    """The time that a word is in; `times` are those not behind it, the next one last."""
    while times and times[-1].end <= starts[at]:
        times.pop()
    if not times or times[-1].start > starts[at]:
        return None
    time = times[-1]
    return Item(A_TIME, at, bisect_left(starts, time.end), time.start, time.end, time=time)


def _phrase_at(tokens: list[Token], starts: list[int], at: int, opening: Opening) -> Item | None:
    """The longest phrase that stands at a word, of those that begin with it."""
    longer = opening.longer
    if longer and at + 1 < len(tokens):
        after = tokens[at + 1]
        if after.word in longer or after.mended in longer:
            for phrase in opening.going_on(after):
                if _stands_at(phrase, tokens, at):
                    return _as_spelt(phrase, tokens, starts, at)
    return _as_spelt(opening.alone, tokens, starts, at) if opening.alone else None


def _as_spelt(phrase: Phrase, tokens: list[Token], starts: list[int], at: int) -> Item:
    """A phrase as it is spelt at a place of the note."""
    end = at + len(phrase.words)
    words = tuple([token.word for token in tokens[at:end]])
    slip = words != phrase.words and _is_a_slip(words, phrase.words)
    stop = starts[end - 1] + len(words[-1])
    return Item(phrase.meanings, at, end, starts[at], stop, words, " ".join(words), slip)


def _is_a_slip(words: tuple[str, ...], phrase: tuple[str, ...]) -> bool:
    """Whether a word is spelt otherwise than its phrase, but for the s of more than one."""
    return any(
        word not in {known, known + "s", known + "'s"}
        for word, known in zip(words, phrase, strict=True)
    )


def _stands_at(phrase: Phrase, tokens: list[Token], at: int) -> bool:
    """Whether the words behind the first two are those of the phrase, but for slips."""
    if len(phrase.words) == 2:
        return True
    end = at + len(phrase.words)
    if end > len(tokens):
        return False
    for known, token in zip(phrase.words[2:], tokens[at + 2 : end], strict=True):
        if known not in {token.word, token.mended}:
            return False
    return True
