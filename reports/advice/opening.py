"""The skipper's first screen: what to change, keep, look over and write down."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from reports.advice.decide import (
    advised,
    does_pay,
    does_tell_money,
    gainsaid_headlines,
    no_ground_is_named,
)
from reports.advice.to_do import to_look_over, to_write_down
from reports.advice.words import hinted, told
from reports.cells import outcomes_of
from reports.doubts import not_so_otherwise, otherwise
from reports.far_catches import far_catches
from reports.fish_left_out import fish_left_out
from reports.language import say
from reports.money.left_out import without_hours_lost
from reports.one_tow import clear_in_one_tow
from reports.parts import Section, Told
from reports.ratio_words import amount
from reports.reason_words import reason_said
from reports.rigs_apart import rigs_apart, untold_words
from reports.sentences import (
    capital,
    in_brief,
    in_part,
    is_clear_alone,
    is_headline,
    is_thin,
    is_told,
    listed,
    title_of,
)
from reports.stand_ins import damage_is_stood_for
from reports.standing.sentences import hauls_wanted, plan_of, planned
from reports.unknown_hauls import rigs_undone, supposed_effects
from schemas.codes import Caution, OtherWay
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.advice.decide import Advice
    from reports.parts import Row

KEPT = saying("{reference}: no other rig was shown to do better.")
KEPT_AS_IT_IS = saying(
    "Each rig where you fish it now: none was shown to do better than {reference}."
)
KEPT_SO_FAR = saying("{reference} for now: no other rig was shown to be better both ways.")
UNTOLD = saying("Each rig where you fish it now: nothing can be told of any against {reference}.")
ALONE = saying("{reference}: the only rig that was fished, so there is nothing to hold it against.")
GONE = saying(
    "{rigs}: fished last, and no figure speaks for it; {reference}, the yardstick here, was last "
    "fished in {year}."
)
GONE_OF_SEVERAL = saying(
    "{rigs}: fished last, and no figure speaks for them; {reference}, the yardstick here, was last "
    "fished in {year}."
)
LONG_AGO = timedelta(days=365)
MORE_THAN_ONE, MOST_OPEN = 2, 2
KEEP, IN_ONE_TOW, OPEN = saying("Keep"), saying("In one tow"), saying("Open")
LOOK_OVER, WRITE_DOWN, NOTE = saying("Look over"), saying("Write down"), saying("Note")
STAND = ("change", "weigh", "leave")
"""The kinds of advice that rest on a difference which stands."""


def opening(findings: Findings) -> list[Told]:
    """The lines of the first screen, what stands first."""
    advice = advised(findings)
    standing = [each for each in advice if each.kind in STAND]
    hints = ([each for each in advice if each.kind == kind] for kind in ("try", "mind"))
    return [
        *(told(each, findings) for each in standing),
        *_keep(advice, findings),
        *([] if standing else [*_in_one_tow(findings), *_open(findings)]),
        *(hinted(each, findings) for each in hints if each),
        *_line(LOOK_OVER, to_look_over(findings)),
        *_line(WRITE_DOWN, to_write_down(findings)),
        *(Told(NOTE, said) for said in _notes(advice, findings)),
    ]


def _notes(advice: list[Advice], findings: Findings) -> list[str]:
    """What is to be known of all that is told: what damage stands for, what is not in it."""
    in_advice = any(each.kind in STAND for each in advice)
    in_money = any(each.kind in STAND and does_tell_money(each) for each in advice)
    lacking = without_hours_lost(findings) if in_money else ""
    return [
        *damage_is_stood_for(findings),
        *([lacking] if lacking else []),
        *_many_unknown(advice, findings),
        *_many_left_out(findings),
        *_made_by_far_catches(findings, standing=in_advice),
        *fish_left_out(findings),
    ]


def _made_by_far_catches(findings: Findings, *, standing: bool) -> list[str]:
    """The headlines that catches make which may be slips, but for those told of as open."""
    told_as_open = [] if standing else gainsaid_headlines(findings)
    headlines = [e for e in findings["effects"] if is_headline(e) and is_told(e)]
    others = [effect for effect in headlines if effect not in told_as_open]
    return not_so_otherwise(others, findings, [OtherWay.WITHOUT_FAR])


MANY_UNKNOWN = 0.2
"""Of so large a share of hauls of which nobody knows if they tore the first screen tells where they
could undo what it advises; own judgement. At the worst end fewer undo nearly any finding."""


def _many_unknown(advice: list[Advice], findings: Findings) -> list[str]:
    """That hauls of unknown damage could undo what is advised, where they are many."""
    hauls, unknown = findings["season"]["hauls"], findings["notes"]["unknown_hauls"]
    undone = rigs_undone(supposed_effects(findings))
    rigs = [each.rig for each in advice if each.kind in STAND and each.rig in undone]
    if not rigs or unknown < MANY_UNKNOWN * hauls:
        return []
    return [say(COULD_UNDO, rigs=listed(rigs), unknown=unknown, hauls=hauls)]


COULD_UNDO = saying(
    "Of {unknown:,} of {hauls:,} hauls nobody knows if the net was torn; were they all against it, "
    "net damage would not be clear: {rigs}. Look their notes over."
)


MANY_LEFT_OUT = 0.05
"""Of so large a share of hauls left out for one reason the first screen tells; own judgement."""


def _many_left_out(findings: Findings) -> list[str]:
    """The reason for which most hauls were left out, where those are many."""
    read = findings["rows"]["hauls"]["read"]
    return [
        say(
            "{rows:,} of {read:,} hauls were left out: {column} {reason} ({value}).",
            rows=row["rows"],
            read=read,
            column=row["column"],
            reason=reason_said(row["reason"]),
            value=row["value"],
        )
        for row in findings["set_aside"]
        if row["table"] == "hauls" and row["value"] and row["rows"] >= MANY_LEFT_OUT * read
    ][:1]


def behind_the_advice(findings: Findings) -> Section | None:
    """Each advice with all that it rests on; None where there is none."""
    lines = [told(each, findings) for each in advised(findings)]
    return Section("behind-the-advice", say("Behind the advice"), told=lines) if lines else None


def _keep(advice: list[Advice], findings: Findings) -> list[Told]:
    """The rig to keep: the reference, unless one is to be fished in its place, or paid."""
    reference = findings["season"]["reference_rig"]
    if any(each.kind == "change" or (each.kind == "weigh" and does_pay(each)) for each in advice):
        return []
    if len(findings["rigs"]) < MORE_THAN_ONE:
        return [Told(KEEP, say(ALONE, reference=reference))]
    if gone := _last_fished_long_ago(reference, findings):
        rigs = _fished_last(findings)
        words = GONE if len(rigs) == 1 else GONE_OF_SEVERAL
        return [Told(KEEP, say(words, rigs=listed(rigs), reference=reference, year=gone))]
    if any(each.kind == "weigh" for each in advice):
        return [Told(KEEP, say(KEPT_SO_FAR, reference=reference))]
    if any(_is_better(row, findings) for row in findings["twin_tows"]):
        return [Told(KEEP, say(KEPT_SO_FAR, reference=reference))]
    known = any(row["ratio"] is not None for row in findings["twin_tows"]) or (
        not no_ground_is_named(findings)
        and any(_may_speak(effect, findings) for effect in findings["effects"])
    )
    kept = KEPT if any(each.kind == "leave" for each in advice) else KEPT_AS_IT_IS
    return [Told(KEEP, say(kept if known else UNTOLD, reference=reference))]


def _is_better(row: Row, findings: Findings) -> bool:
    """Whether a rig was clearly better than the reference in the tows that fished both at once."""
    better = outcomes_of(findings)[row["outcome"]]["better"]
    return bool(
        row["reference"] == findings["season"]["reference_rig"] and row["verdict"] == better
    )


def _may_speak(effect: Row, findings: Findings) -> bool:
    """Whether something would be made of the effect, were it clear: of few on one ground not."""
    of_headline = effect["outcome"] in findings["season"]["headlines"]
    enough = effect["ground"] == ALL_GROUNDS or not is_thin(effect)
    return of_headline and enough and is_told(effect)


def _last_fished_long_ago(rig: str, findings: Findings) -> int | None:
    """The year in which the rig was last fished, where the record goes on for a year without it."""
    days = [trip["first_day"] for trip in findings["trips"] if trip["rig"] == rig]
    fished = [date.fromisoformat(day) for day in days if day]
    if not fished:
        return None
    gone = date.fromisoformat(findings["season"]["last_day"]) - max(fished) > LONG_AGO
    return max(fished).year if gone else None


def _fished_last(findings: Findings) -> list[str]:
    """The rig of the last trip; all of them where several trips began on that day."""
    dated = [trip for trip in findings["trips"] if trip["first_day"]]
    last = max(trip["first_day"] for trip in dated)
    return sorted({trip["rig"] for trip in dated if trip["first_day"] == last})


def _open(findings: Findings) -> list[Told]:
    """What is gainsaid; and what could be compared in a part of the record only, or not at all."""
    if no_ground_is_named(findings):
        return [Told(OPEN, say(NO_GROUND))]
    gainsaid = [_in_a_part(each, findings, named=True) for each in gainsaid_headlines(findings)]
    told: dict[str, Row] = {}
    for effect in findings["effects"]:
        if (
            effect["ground"] == ALL_GROUNDS
            and effect["outcome"] in findings["season"]["headlines"]
            and effect["part"] != WHOLE_RECORD
            and is_told(effect)
        ):
            told.setdefault(effect["outcome"], effect)
    if not told:
        neither = [Told(OPEN, " ".join(gainsaid))] if gainsaid else []
        return [*neither, *_apart(findings)] or _too_little_yet(findings)
    parts = {effect["part"] for effect in told.values()}
    said = [_in_a_part(effect, findings, named=len(parts) > 1) for effect in told.values()]
    rest = THE_REST if len(parts) > 1 else ALL_OF_ONE_PART
    said.append(say(rest, part=min(parts)))
    return [Told(OPEN, " ".join(dict.fromkeys([*gainsaid, *said])))]


def _in_one_tow(findings: Findings) -> list[Told]:
    """What is clear from tows that fished two rigs at once, though nothing else is."""
    return [Told(IN_ONE_TOW, said) for said in clear_in_one_tow(findings)]


NO_GROUND = saying(
    "The log names no ground: what looks like the rig may be the ground that it was fished on, so "
    "nothing here is a reason to change."
)
THE_REST = saying("Of the rest of the record no figure can be given.")
ALL_OF_ONE_PART = saying("That is of {part}; of the rest of the record no figure can be given.")


def _in_a_part(effect: Row, findings: Findings, *, named: bool) -> str:
    """A figure of a part of the record, which is named unless it is once for all.

    Where hauls side by side alone point the other way, or the trips that fished both, both figures,
    and that neither is to be gone by.
    """
    outcome = outcomes_of(findings)[effect["outcome"]]
    shown = effect if named else {**effect, "part": WHOLE_RECORD}
    said = in_brief(shown, outcome)
    for way, words in reversed(BUT_OTHERWISE.items()):
        if other := otherwise(way, effect, findings):
            said = say(
                words,
                amount=amount(effect["ratio"], outcome),
                part=in_part(shown),
                other=amount(other, outcome),
                catches=far_catches(findings) if way == OtherWay.WITHOUT_FAR else "",
            )
    if Caution.ONE_AFTER_OTHER in effect["cautions"]:
        said = say(ONCE, said=said)
    return say("{rig} in {title}: {said}.", rig=effect["rig"], title=title_of(outcome), said=said)


ONCE = saying(
    "{said}, but the boats changed from one to the other once: what else changed with the weeks is "
    "in it. Fish both in turn"
)
BUT_OTHERWISE = {
    OtherWay.SIDE_BY_SIDE: saying(
        "{amount}{part}, but {other} where both were fished side by side: go by neither"
    ),
    OtherWay.WITHIN_TRIPS: saying(
        "{amount}{part}, but {other} within the trips that fished both: go by neither"
    ),
    OtherWay.WITHIN_TOWS: saying(
        "{amount}{part}, but {other} in the tows that fished both at once: go by neither"
    ),
    OtherWay.WITHOUT_FAR: saying(
        "{amount}{part}, but {other} without {catches}: look that up first, and go by neither"
    ),
}
"""What is said where another way points the other way; the first goes before the second."""


def _too_little_yet(findings: Findings) -> list[Told]:
    """The rig of most hauls of which too little can be told, of what, and what would tell it."""
    plans, outcomes = planned(findings), outcomes_of(findings)
    untold = {
        (effect["rig"], effect["outcome"]): plan
        for effect in findings["effects"]
        if effect["ground"] == ALL_GROUNDS and effect["outcome"] in findings["season"]["headlines"]
        if (plan := plan_of(effect, plans)) and not is_clear_alone(effect)
    }
    hauls = {effect["rig"]: effect["rig_hauls"] for effect in findings["effects"]}
    rig = max((rig for rig, _ in untold), key=hauls.__getitem__, default=None)
    of_rig = [name for name in findings["season"]["headlines"] if (rig, name) in untold]
    if not of_rig:
        return []
    titles = [title_of(outcomes[name]) for name in of_rig]
    wanted = hauls_wanted(untold[rig, of_rig[0]], outcomes[of_rig[0]])
    return [
        Told(
            OPEN,
            " ".join(
                [
                    say(TOO_LITTLE_YET, rig=rig, outcomes=listed(titles)),
                    *(say("In {title}, {wanted}.", title=titles[0], wanted=w) for w in wanted),
                ]
            ),
        )
    ]


TOO_LITTLE_YET = saying("Of {rig} too little can be told yet in {outcomes}.")


def _apart(findings: Findings) -> list[Told]:
    """The rigs hardly fished side by side with the reference, and what would settle it.

    Over all grounds, that is: on one ground alone the two may well have been apart.
    """
    apart, reference = rigs_apart(findings), findings["season"]["reference_rig"]
    said = [
        say(words, rigs=_first_of(rigs), reference=reference)
        for words, rigs in ((HARDLY, apart.hardly), (TOO_FEW_HAULS, apart.few))
        if rigs
    ]
    said += [
        untold_words(_first_of(rigs), reference, titles) for titles, rigs in apart.untold.items()
    ]
    return [Told(OPEN, words) for words in said]


HARDLY = saying(
    "{rigs}: hardly fished side by side with {reference}. Fishing both in turn, on one boat and "
    "one ground, would settle it."
)
TOO_FEW_HAULS = saying(
    "{rigs}: fished side by side with {reference}, but in too few hauls or trips to tell. More of "
    "both in turn would."
)


def _first_of(rigs: list[str]) -> str:
    others = [say("{number} more", number=len(rigs) - MOST_OPEN)] if rigs[MOST_OPEN:] else []
    return listed([*rigs[:MOST_OPEN], *others])


def _line(label: str, things: list[str]) -> list[Told]:
    if not things:
        return []
    said = "; ".join(thing.removesuffix(".") for thing in things)
    return [Told(label, f"{capital(said)}.")]
