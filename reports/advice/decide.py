"""What to do about each rig, decided from what was found of it; a pure function of the findings.

Only a difference that stands among all headline comparisons may say *change*, *weigh* or *leave*.
What is clear by itself only, or on one ground, is worth a trial, or minding, and no more. What is
gainsaid where hauls are more alike is worth nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from reports.cells import outcomes_of
from reports.doubts import is_gainsaid
from reports.sentences import is_clear, is_clear_alone, is_thin, is_told
from schemas.codes import Caution, MoneyVerdict, Verdict
from schemas.words import ALL_GROUNDS, UNKNOWN_GROUND

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.findings import Findings
    from reports.parts import Row

Kind = Literal["change", "weigh", "leave", "try", "mind"]
KINDS: tuple[Kind, ...] = ("change", "weigh", "leave", "try", "mind")


@dataclass(frozen=True)
class Advice:
    """What is advised of a rig: the effects it rests on, and what it came to in money, if known."""

    kind: Kind
    rig: str
    gains: tuple[Row, ...]
    losses: tuple[Row, ...]
    money: Row | None

    @property
    def effects(self) -> tuple[Row, ...]:
        """All that it rests on, what is gained first."""
        return (*self.gains, *self.losses)


def advised(findings: Findings) -> list[Advice]:
    """What to do about each rig of which anything is to be said, the surest kinds first."""
    money = {row["rig"]: row for row in findings["money"]["rigs"] if row["ground"] == ALL_GROUNDS}
    by_rig: dict[str, list[Row]] = {}
    if no_ground_is_named(findings):
        return []
    gainsaid = {(each["rig"], each["outcome"]): each for each in gainsaid_headlines(findings)}
    for effect in findings["effects"]:
        if (
            effect["outcome"] in findings["season"]["headlines"]
            and (effect["rig"], effect["outcome"]) not in gainsaid
        ):
            by_rig.setdefault(effect["rig"], []).append(effect)
    outcomes = outcomes_of(findings)
    said = [
        _with_what_may_be_lost(advice, gainsaid.values(), outcomes)
        for rig, effects in by_rig.items()
        if (advice := _of_rig(rig, effects, outcomes, money.get(rig))) is not None
    ]
    return sorted(said, key=lambda advice: (KINDS.index(advice.kind), advice.rig))


def _with_what_may_be_lost(
    advice: Advice, gainsaid: Iterable[Row], outcomes: dict[str, Row]
) -> Advice:
    """Who is told to change is to weigh a loss, too, that another way of comparing gainsays."""
    _, lost = _sided((each for each in gainsaid if each["rig"] == advice.rig), outcomes)
    if advice.kind != "change" or not lost:
        return advice
    return replace(advice, kind="weigh", losses=(*advice.losses, *lost))


def no_ground_is_named(findings: Findings) -> bool:
    """Whether no haul names its ground: then what a rig did may be what its ground did."""
    return {row["ground"] for row in findings["rig_by_ground"]} == {UNKNOWN_GROUND}


def gainsaid_headlines(findings: Findings) -> list[Row]:
    """The differences, clear or clear by themselves, that another way of comparing gainsays."""
    return [
        effect
        for effect in findings["effects"]
        if effect["ground"] == ALL_GROUNDS
        and effect["outcome"] in findings["season"]["headlines"]
        and (is_clear(effect) or is_clear_alone(effect))
        and is_gainsaid(effect, findings)
    ]


def does_pay(advice: Advice) -> bool:
    """Whether what is advised of came out ahead in money, past doubt."""
    return advice.money is not None and advice.money["verdict"] == MoneyVerdict.PAYS


def does_tell_money(advice: Advice) -> bool:
    """Whether what the rig came to in money is told."""
    return advice.money is not None and advice.money["net_change"] is not None


def _of_rig(
    rig: str, effects: list[Row], outcomes: dict[str, Row], money: Row | None
) -> Advice | None:
    """What to do about one rig: what stands over all grounds goes before what may be luck."""
    over_all = [effect for effect in effects if effect["ground"] == ALL_GROUNDS]
    clear = [effect for effect in over_all if is_clear(effect)]
    hints = [effect for effect in over_all if is_clear_alone(effect)]
    verdict = money["verdict"] if money is not None else ""
    if clear:
        gains, losses = _sided([*clear, *hints], outcomes)
        losses = (*losses, *(each for each in over_all if _leans(each, outcomes, wanted=False)))
        if not gains:
            gains = tuple(each for each in over_all if _leans(each, outcomes, wanted=True))
        return Advice(_kind_of_clear(gains, losses, money), rig, gains, losses, money)
    on_grounds = [e for e in effects if e["ground"] != ALL_GROUNDS and is_clear(e)]
    gains, losses = _sided(hints or [e for e in on_grounds if not is_thin(e)], outcomes)
    if not gains and not losses:
        return _of_money(rig, money)
    return Advice(
        "mind" if losses or verdict == MoneyVerdict.COSTS else "try", rig, gains, losses, money
    )


def _leans(effect: Row, outcomes: dict[str, Row], *, wanted: bool) -> bool:
    """Whether there is too little to tell, but as recorded it is far enough to one side.

    Far enough is half-way to the smallest difference worth knowing (own judgement). Who is told to
    change, or to leave a rig, for what stands in one outcome is to know of it.
    """
    if not is_told(effect) or effect["verdict_alone"] != Verdict.TOO_LITTLE or not effect["ratio"]:
        return False
    outcome = outcomes[effect["outcome"]]
    more = (outcome["better"] == "higher") is wanted
    return bool((effect["ratio"] if more else 1 / effect["ratio"]) ** 2 >= outcome["matters"])


def _of_money(rig: str, money: Row | None) -> Advice | None:
    """What to do about a rig of which nothing is told but what it came to in money."""
    kinds: dict[str, Kind] = {MoneyVerdict.PAYS: "try", MoneyVerdict.COSTS: "mind"}
    if money is None or money["verdict"] not in kinds:
        return None
    if Caution.ONE_AFTER_OTHER in money["cautions"]:
        return None
    return Advice(kinds[money["verdict"]], rig, (), (), money)


def _kind_of_clear(gains: tuple[Row, ...], losses: tuple[Row, ...], money: Row | None) -> Kind:
    """What a clear difference says; where one is gained and one lost, it is to be weighed.

    So too where money goes the other way, even if it may be luck.
    """
    if gains and not losses and not _is_behind(money):
        return "change"
    return "weigh" if gains else "leave"


def _is_behind(money: Row | None) -> bool:
    """Whether the rig came out behind in money, were it only as recorded."""
    change = money["net_change"] if money is not None else None
    return change is not None and bool(change["estimate"] < 0)


def _sided(
    effects: Iterable[Row], outcomes: dict[str, Row]
) -> tuple[tuple[Row, ...], tuple[Row, ...]]:
    """The effects that a skipper would want, and those not."""
    gains: list[Row] = []
    losses: list[Row] = []
    for effect in effects:
        wanted = effect["verdict_alone"] == outcomes[effect["outcome"]]["better"]
        (gains if wanted else losses).append(effect)
    return tuple(gains), tuple(losses)
