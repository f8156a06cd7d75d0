"""What is said of the sizes that a rig loses: what, where, how much, how sure, on what it rests."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import ratio_cell
from reports.counts import haul_count, trip_count
from reports.language import say, say_many
from reports.ratio_words import TWICE, is_hardly_other, percent_off, times
from reports.sentences import capital, in_part, is_told, listed
from schemas.codes import Caution, Verdict
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

LOST = {
    Verdict.HIGHER: saying(
        "{fish}: against {reference}, {rig} lost more of the small ones than of the large."
    ),
    Verdict.LOWER: saying(
        "{fish}: against {reference}, {rig} kept more of the small ones than of the large."
    ),
    Verdict.TOO_LITTLE: saying(
        "{fish}: whether {rig} lost more of the small ones than of the large, against {reference}, "
        "is not told."
    ),
}
FOUND = {
    Verdict.HIGHER: saying("{fish}: more of the small ones lost with {rigs}"),
    Verdict.LOWER: saying("{fish}: more of the small ones kept with {rigs}"),
}
NONE_FOUND = saying("{fish}: no rig clearly lost more of the small ones")
CAUGHT = saying(
    "Per hour towed on all grounds{part} it caught {small} {under}, and {large} {over}."
)
DOUBLED = saying(
    "Twice the length makes that {ratio} times as much, and anything from {low} to {high} times "
    "would fit; 1 is no change."
)
RESTS = saying("It rests on {hauls} on {trips}.")
AFTER = saying(
    "The two were fished one after the other, so what else changed with the weeks is in it: do not "
    "go by it."
)
IN_TOWS = saying(
    "{lost} {doubled} That is from {tows} that fished both at once, each held to itself."
)
NONE_CLEAR = saying(
    "{fish}: no rig clearly lost more of the small ones than of the large, or kept more. That "
    "rests on {measured:,} fish measured in {hauls}."
)
BY_ITSELF = saying(
    "{fish}: {rigs} may have lost more of the small ones than of the large, or kept more; among "
    "{slopes} such questions that may be luck."
)


def found(species: Row) -> str:
    """What is clear of a species' sizes, in a line."""
    lines = [
        say(words, fish=fish_of(species), rigs=listed(rigs))
        for verdict, words in FOUND.items()
        if (rigs := [s["rig"] for s in species["slopes"] if s["verdict"] == verdict])
    ]
    return "; ".join(lines) or say(NONE_FOUND, fish=fish_of(species))


def of_species(species: Row, findings: Findings) -> list[str]:
    """What is clear of a species' sizes, a sentence or two a rig; else that nothing is."""
    told = [_clear(slope, species) for slope in species["slopes"] if is_clear_slope(slope)]
    if not told and species["slopes"]:
        told = [
            say(
                NONE_CLEAR,
                fish=fish_of(species),
                measured=sum(band["measured"] for band in species["bands"]),
                hauls=haul_count(species["measured"]),
            )
        ]
    luck = [slope["rig"] for slope in species["slopes"] if may_be_luck(slope)]
    if luck:
        looks = findings["by_length"]["slopes"]
        told.append(say(BY_ITSELF, fish=fish_of(species), rigs=listed(luck), slopes=looks))
    return told + [_in_tows(slope, species) for slope in species["slopes_in_tows"]]


def is_clear_slope(slope: Row) -> bool:
    """Whether small fish were clearly lost more than large ones, or less, among all slopes."""
    return bool(slope["verdict"] != Verdict.TOO_LITTLE)


def may_be_luck(slope: Row) -> bool:
    """Whether a slope is clear by itself and not among all of them."""
    return not is_clear_slope(slope) and not slope["low"] <= 1 <= slope["high"]


def fish_of(species: Row) -> str:
    """The species as a sentence begins with it."""
    return capital(say(species["fish"]))


def _clear(slope: Row, species: Row) -> str:
    told = [e for e in species["effects"] if e["rig"] == slope["rig"] and is_told(e)]
    small, large = told[0], told[-1]
    bands = {band["outcome"]: band for band in species["bands"]}
    caught = say(
        CAUGHT,
        part=in_part(small),
        small=_so_many(small["ratio"]),
        under=band_words(bands[small["outcome"]]),
        large=_so_many(large["ratio"]),
        over=band_words(bands[large["outcome"]]),
    )
    rests = say(RESTS, hauls=haul_count(small["hauls"]), trips=trip_count(small["trips"]))
    after = [say(AFTER)] if Caution.ONE_AFTER_OTHER in small["cautions"] else []
    return " ".join([_lost(slope, species), caught, _doubled(slope), rests, *after])


def _in_tows(slope: Row, species: Row) -> str:
    return say(
        IN_TOWS,
        tows=say_many("{number:,} tow", "{number:,} tows", slope["tows"]),
        lost=_lost(slope, species),
        doubled=_doubled(slope),
    )


def _lost(slope: Row, species: Row) -> str:
    pair = {name: slope[name] for name in ("rig", "reference")}
    return say(LOST[slope["verdict"]], fish=fish_of(species), **pair)


def _doubled(slope: Row) -> str:
    ends = {"ratio": "per_doubling", "low": "low", "high": "high"}
    return say(DOUBLED, **{name: ratio_cell(slope[key]) for name, key in ends.items()})


def _so_many(ratio: float) -> str:
    if is_hardly_other(ratio):
        return say("neither fewer nor more")
    if ratio >= TWICE:
        return say("{times} times as many", times=times(ratio))
    words = saying("{percent} % fewer") if ratio < 1 else saying("{percent} % more")
    return say(words, percent=percent_off(ratio))


def band_words(band: Row) -> str:
    """Which lengths a band has."""
    if band["from_cm"] is None:
        return say("under {to_cm:g} cm", to_cm=band["to_cm"])
    if band["to_cm"] is None:
        return say("from {from_cm:g} cm on", from_cm=band["from_cm"])
    return say("from {from_cm:g} to under {to_cm:g} cm", **band)
