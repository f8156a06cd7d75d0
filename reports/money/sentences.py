"""What a change of rig would pay, in words: what it may lose, what it did, how sure that is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say
from reports.money.rounding import adding_up, decimals_beside, decimals_of, decimals_of_limit, sized
from reports.sentences import CAUTION_WORDS, WHY_UNTOLD, capital, listed, where
from schemas.codes import Caution, MoneyVerdict
from schemas.words import WHOLE_RECORD, saying

if TYPE_CHECKING:
    from reports.money.rounding import Figure
    from reports.parts import Row

NO_INTERVAL = saying("no interval can be given")
TO_EARN_BACK = 1000


def money(amount: float, currency: str, decimals: int | None = None) -> str:
    """A sum of money without its sign: 1,240 EUR, 4.6 EUR; with so many decimals, if it is told."""
    told = decimals_beside(amount) if decimals is None else decimals
    return f"{sized(amount, told)} {currency}".strip()


def ahead(change: Figure, currency: str, decimals: int | None = None) -> str:
    """How far ahead: 18 EUR ahead (between 5 and 31 ahead)."""
    estimate = change["estimate"] or 0.0
    told = decimals_of(change) if decimals is None else decimals
    if sized(estimate, told) == sized(0.0, told):
        side = say("even")
    else:
        words = AHEAD_BY if estimate > 0 else BEHIND_BY
        side = say(words, money=money(estimate, currency, told))
    return f"{side} ({_between(change['low'], change['high'], told)})"


AHEAD_BY, BEHIND_BY = saying("{money} ahead"), saying("{money} behind")


def _between(low: float | None, high: float | None, decimals: int) -> str:
    """The interval of how far ahead; where it has both signs, each is said."""
    if low is None or high is None:
        return say(NO_INTERVAL)
    said_low, said_high = (sized(end, decimals_of_limit(end, decimals)) for end in (low, high))
    if low < 0 < high:
        return say("between {low} behind and {high} ahead", low=said_low, high=said_high)
    if high <= 0:
        return say(BETWEEN_BEHIND, near=said_high, far=said_low)
    return say(BETWEEN_AHEAD, near=said_low, far=said_high)


BETWEEN_AHEAD = saying("between {near} and {far} ahead")
BETWEEN_BEHIND = saying("between {near} and {far} behind")


def percent_of(share: float) -> int:
    """A share in percent without its sign."""
    return round(abs(share) * 100)


def _closely(share: float) -> int | float:
    """The same to a tenth where it is small, as profit hangs on it."""
    percent = round(abs(share) * 100, 1)
    return percent_of(share) if percent >= SMALL_PERCENT or percent.is_integer() else percent


SMALL_PERCENT = 10
"""A smaller share is said to a tenth."""


def is_told(row: Row) -> bool:
    """Whether there is a net change to tell."""
    return row["net_change"] is not None


def is_clear(row: Row) -> bool:
    """Whether the rig pays or costs, past doubt."""
    return row["verdict"] in {MoneyVerdict.PAYS, MoneyVerdict.COSTS}


def may_lose(row: Row) -> str:
    """How much the catch may fall, or must rise, for the rig to come out even."""
    share = row["break_even"]
    if share is None:
        return say(
            "{reference} caught nothing of worth, so there is no share of it to lose.",
            reference=row["reference"],
        )
    return f"{capital(pays_unless(row))} ({_may_lose(share)})."


def pays_unless(row: Row) -> str:
    """The same in few words, without the interval; it reads on from a sentence."""
    share = row["break_even"]
    if share is None:
        return say("{reference} caught nothing of worth", reference=row["reference"])
    percent = _closely(share["estimate"])
    if not is_clear(row):
        return _breaks_even(share["estimate"])
    if percent_of(share["estimate"]) == 0:
        return say("it pays if its catch is worth more")
    if share["estimate"] > 0:
        return say(
            "it pays unless it loses more than {percent:,} % of the catch's value", percent=percent
        )
    return say("it pays only if its catch is worth {percent:,} % more", percent=percent)


def _breaks_even(share: float) -> str:
    """At which share of the catch the two would come out even, where neither is told to pay."""
    if percent_of(share) == 0:
        return say("it would break even with a catch of the same worth")
    if share > 0:
        return say(
            "it would break even with a catch worth {percent:,} % less", percent=_closely(share)
        )
    return say("it would break even with a catch worth {percent:,} % more", percent=_closely(share))


def pays_unless_and_was(row: Row) -> str:
    """What the catch must be worth for the rig to pay, and what it was worth, in few words."""
    share, change = row["break_even"], row["catch_change"]
    if share is None or change is None or percent_of(share["estimate"]) == 0:
        return pays_unless(row)
    if _come_out_even(share["estimate"], change["estimate"]):
        return say(EVEN_WITH_LESS if share["estimate"] > 0 else EVEN_WITH_MORE)
    percent = percent_of(change["estimate"])
    side = (change["estimate"] > 0) - (change["estimate"] < 0) if percent else 0
    words = UNLESS_LESS if share["estimate"] > 0 else ONLY_IF_MORE
    return say(
        words[row["verdict"]],
        percent=_closely(share["estimate"]),
        was=say(WAS_WORTH[side], percent=_closely(change["estimate"])),
    )


UNLESS_LESS = {
    MoneyVerdict.PAYS: saying("it pays unless its catch is worth {percent:,} % less; it was {was}"),
    MoneyVerdict.COSTS: saying(
        "it pays unless its catch is worth {percent:,} % less; it was {was}"
    ),
    MoneyVerdict.NOT_TOLD: saying(
        "it would break even with a catch worth {percent:,} % less; it was {was}"
    ),
}
ONLY_IF_MORE = {
    MoneyVerdict.PAYS: saying(
        "it pays as long as its catch is worth at least {percent:,} % more; it was {was}"
    ),
    MoneyVerdict.COSTS: saying(
        "it pays only if its catch is worth {percent:,} % more; it was {was}"
    ),
    MoneyVerdict.NOT_TOLD: saying(
        "it would break even with a catch worth {percent:,} % more; it was {was}"
    ),
}
"""By what is told of whether the rig pays."""
EVEN_WITH_LESS = saying("less catch and less damage weigh about the same")
EVEN_WITH_MORE = saying("more catch and more damage weigh about the same")
WAS_WORTH = {
    -1: saying("{percent:,} % less"),
    0: saying("neither more nor less"),
    1: saying("{percent:,} % more"),
}


def _come_out_even(may_lose: float, change: float) -> bool:
    """Whether what the catch may lose, or must gain, is what it lost or gained, as it is told."""
    return may_lose * change < 0 and _closely(may_lose) == _closely(change)


def _may_lose(share: Figure) -> str:
    """The interval of the share that may be lost; where it has both signs, each is said."""
    low, high = share["low"], share["high"]
    if low is None or high is None:
        return say(NO_INTERVAL)
    if low < 0 < high:
        return say(
            "anything from losing {loss:,} % to having to gain {gain:,} %",
            loss=percent_of(high),
            gain=percent_of(low),
        )
    least, most = sorted((percent_of(low), percent_of(high)))
    return say("between {least:,} and {most:,} %", least=least, most=most)


def what_it_did(row: Row, currency: str) -> str:
    """What an hour with the rig came to and cost beside one with the reference, and the sum."""
    part, change = row["part"], row["net_change"]
    fish, damage = (
        row["of_rig"][name]["estimate"] - row["of_reference"][name]["estimate"]
        for name in ("value", "cost")
    )
    decimals = decimals_of(change, fish, damage)
    fish, damage, _ = adding_up(fish, damage, change["estimate"] or 0.0, decimals)
    return say(
        AN_HOUR if part == WHOLE_RECORD else AN_HOUR_IN_PART,
        part=part,
        rig=row["rig"],
        fish=_less_or_more(FISH, fish, currency, decimals),
        damage=_less_or_more(DAMAGE, damage, currency, decimals),
        reference=row["reference"],
        ahead=ahead(change, currency, decimals),
    )


AN_HOUR = saying("An hour with {rig} went with {fish} and {damage} than with {reference}: {ahead}.")
AN_HOUR_IN_PART = saying(
    "In {part} an hour with {rig} went with {fish} and {damage} than with {reference}: {ahead}."
)

FISH = (
    saying("{money} less fish"),
    saying("neither more nor less fish"),
    saying("{money} more fish"),
)
DAMAGE = (
    saying("{money} less damage"),
    saying("neither more nor less damage"),
    saying("{money} more damage"),
)


def _less_or_more(words: tuple[str, str, str], change: float, currency: str, decimals: int) -> str:
    """What an hour with the rig brought of something, less or more than one with the reference."""
    less, alike, more = words
    if change == 0:
        return say(alike)
    return say(less if change < 0 else more, money=money(change, currency, decimals))


def of_rig(row: Row, currency: str) -> str:
    """All that is said of one rig over all grounds: what it did, the bound, how far to trust it.

    The row has a net change.
    """
    told = [what_it_did(row, currency), verdict_words(row), may_lose(row)]
    if row["verdict"] == MoneyVerdict.PAYS:
        told.append(earned_back(row, currency))
    return " ".join([*told, *(say(DOUBTS[name]) for name in row["cautions"] if name in DOUBTS)])


def verdict_words(row: Row) -> str:
    """What the interval of the net change says."""
    if not is_clear(row):
        return say("Whether it pays can't be told.")
    if row["verdict"] == MoneyVerdict.PAYS:
        return say("It came out ahead of {reference}.", reference=row["reference"])
    return say("It came out behind {reference}.", reference=row["reference"])


def stood_for(rows: list[Row]) -> str:
    """The rigs of which other rigs' tears speak, in one sentence; nothing where there is none."""
    rigs = sorted({rig for row in rows for rig in row["by_all_rigs"]})
    if not rigs:
        return ""
    return say(
        "Of {rigs} fewer than five tears have all of their cost written: what a tear of any rig "
        "cost on average stands for it.",
        rigs=listed(rigs),
    )


def is_thin(row: Row) -> bool:
    """Whether nothing is told of a rig, and its record is too thin to expect it."""
    thin = set(DOUBTS) - {Caution.ONE_AFTER_OTHER}
    return not is_clear(row) and not thin.isdisjoint(row["cautions"])


def of_thin(rows: list[Row]) -> str:
    """The rigs whose record is too thin, in one sentence; nothing where there is none."""
    if not rows:
        return ""
    return say(
        "Whether {rigs} would pay can't be told: fewer than ten trips, or hauls side by side, of "
        "one of the two, or fewer than five hauls with damage. What they came to is in the chart "
        "and its table.",
        rigs=listed([row["rig"] for row in rows]),
    )


def on_grounds(rows: list[Row], currency: str) -> str:
    """The grounds on which a rig clearly pays or costs; nothing where there is none."""
    clear = [row for row in rows if is_clear(row)]
    if not clear:
        return ""
    said = "; ".join(
        say(
            "{on_ground} an hour with {rig} was {ahead}",
            on_ground=where(row["ground"]).strip(),
            rig=row["rig"],
            ahead=ahead(row["net_change"], currency),
        )
        for row in clear
    )
    by_luck = say(
        "Of {comparisons:,} such comparisons by ground one may stand out by luck alone.",
        comparisons=len(rows),
    )
    return f"{capital(said)}. {by_luck}"


def is_wide(row: Row) -> bool:
    """Whether the net change is no better known than within what is caught in an hour."""
    low, high = row["net_change"]["low"], row["net_change"]["high"]
    return low is None or high - low >= row["of_reference"]["value"]["estimate"]


def too_few_on_grounds(rows: list[Row]) -> str:
    """The rigs and grounds of which nothing is told; nothing where there is none."""
    rigs_on: dict[str, list[str]] = {}
    for row in filter(is_wide, rows):
        rigs_on.setdefault(row["ground"], []).append(row["rig"])
    said = [f"{where(ground).strip()} ({listed(rigs)})" for ground, rigs in rigs_on.items()]
    return say("Too few to tell {on_grounds}.", on_grounds=listed(said)) if said else ""


DOUBTS = {
    **CAUTION_WORDS,
    Caution.FEW_WITH_SOME: saying(
        "Fewer than five hauls of one of them had damage, which settles nothing."
    ),
    Caution.NONE_SEEN: saying(
        "One of them had no damage at all: its cost is put at nought, and may be more."
    ),
}


def earned_back(row: Row, currency: str) -> str:
    """Over how many hours a thousand is earned back, for a rig that pays."""
    return say(
        "At that, each {price} of what it costs to change over is earned back in about "
        "{hours:,.0f} hours towed (between {least:,.0f} and {most:,.0f}).",
        price=money(TO_EARN_BACK, currency),
        hours=row["hours_to_earn_back"],
        least=TO_EARN_BACK / row["net_change"]["high"],
        most=TO_EARN_BACK / row["net_change"]["low"],
    )


def why_not(row: Row) -> str:
    """Why there is no figure for two rigs, in a few words."""
    told = [WHY_UNTOLD[name] for name in row["cautions"] if name in WHY_UNTOLD]
    lacking = [words for name, words in NOT_KNOWN.items() if name not in row["known"]]
    return say(next(iter([*told, *lacking]), NEITHER_KNOWN))


NOT_KNOWN = {
    "value": saying("the worth of the catch is not known"),
    "damage_cost": saying("what damage costs is not known"),
}
NEITHER_KNOWN = saying("the worth of the catch, or what damage costs, is not known")


def without_a_figure(rows: list[Row]) -> list[str]:
    """The rigs of which nothing can be told, a sentence a reason."""
    by_reason: dict[str, list[str]] = {}
    for row in rows:
        by_reason.setdefault(why_not(row), []).append(row["rig"])
    return [
        say("No figure for {rigs}: {why}.", rigs=listed(rigs), why=why)
        for why, rigs in by_reason.items()
    ]


def claim(row: Row, currency: str) -> str:
    """The finding of one rig, as the title of a chart or a line of the first screen."""
    pays = row["verdict"] == MoneyVerdict.PAYS
    return say(
        CAME_OUT_AHEAD if pays else FELL_BEHIND,
        rig=row["rig"],
        reference=row["reference"],
        place=where(row["ground"]),
        money=money(row["net_change"]["estimate"], currency, decimals_of(row["net_change"])),
    )


CAME_OUT_AHEAD = saying("{rig} came out ahead of {reference}{place} by {money} an hour")
FELL_BEHIND = saying("{rig} fell behind {reference}{place} by {money} an hour")

VERDICTS = {
    MoneyVerdict.PAYS: saying("pays"),
    MoneyVerdict.COSTS: saying("costs"),
    MoneyVerdict.NOT_TOLD: saying("can't be told"),
}


def verdict_word(row: Row) -> str:
    """The verdict on one rig in a word or two, for a cell."""
    verdict = row["verdict"]
    return say(VERDICTS[verdict])
