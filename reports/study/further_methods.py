"""What the methods say of the figures beside the headlines, each where the run has it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.language import say
from reports.on_the_mix import not_alike_on_the_mix
from reports.sentences import factor_words, is_told, listed
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

RATES = saying(
    "A rate by itself has limits from trip to trip, by leaving out each in turn; those of counted "
    "events are the wider, end by end, of these and the exact ones of a Poisson count. Where trips "
    "can't tell how unlike they are, what fell in a trip counts as one clump of such a count."
)
MIX = saying(
    "On a mix of grounds each rig has a term of its own on each ground, and the mix weighs them."
)
MIX_NOT_ALIKE = saying(
    "There are too few trips to hold it alike in {factors} as well, as the ratio over all "
    "grounds is."
)
PLANNED = saying(
    "What could have been shown is what had four chances in five of coming out clear, with the "
    "spread between trips of this season."
)
TORN_PARTS = saying(
    "Torn parts are compared in shares of the tears whose place is told, weighed alike by ground "
    "and boat (Mantel and Haenszel), with errors from trip to trip."
)
FILLED_UP = saying(
    "A tear of which it is not written what it took is not counted as none, but as the others with "
    "that rig; like for like, as those on that boat."
)
BY_LENGTH = saying(
    "Catches by length are fish per hour towed in bands of length, raised by the share measured "
    "({bands}), compared as weights are. A haul whose fish were measured has none of a band that "
    "none was measured in, and none of a species that it did not catch; one that caught a species "
    "and had none of it measured is left out for that species. Whether the ratio changes with "
    "length is the slope of a line through the logarithms of the bands' ratios over that of "
    "length, each band weighed by its error; trips are left out of all bands at once. Verdicts "
    "{judged}."
)
NAMED_BANDS = saying("edges named by the season for {fish}")
OWN_BANDS = saying("edges of about as many fish each, all rigs together, for {fish}")
TOGETHER = saying(
    "allow for their number (ratios: {ratios}; slopes: {slopes}) by equal parts of 5 % for either"
)
ALONE = saying("are each at 95 % by itself")
COSTS = saying(
    "What damage costs is how often times how much when; its limits come from how both vary from "
    "trip to trip, by the delta method."
)
ADDING_UP = saying(
    "Mending adds up as a mean cumulative function over the sets of a rig, with limits of its log "
    "from trip to trip."
)
MEASURES = saying(
    "What a measure of a rig does is found by a line through the rigs' own ratios, with an error "
    "from how they scatter about it; the length difference by each rig held against itself."
)


def further_sentences(findings: Findings) -> list[str]:
    """How rates, mixes, plans, torn parts, costs and measures were reckoned, those that were."""
    written = findings["costs"]["written"]
    done = {
        RATES: findings["season"]["errors"] == "trip" and _any(findings["rates"], "low"),
        MIX: _any(findings["on_the_mix"], "ratio"),
        PLANNED: _any(findings["standing"]["planning"], "lower"),
        TORN_PARTS: findings["damage"]["comparisons"] > 0,
        FILLED_UP: any(0 < row["counted"] < row["tears"] for row in written),
        COSTS: any(row["both"]["low"] is not None for row in findings["costs"]["parts"]),
        ADDING_UP: any(row["told"] and row["damaged"] for row in findings["cumulative_mending"]),
        MEASURES: _any(findings["measures"], "ratio"),
        BY_LENGTH: bool(_sizes_told(findings)),
    }
    filled = {BY_LENGTH: _of_lengths(findings)}
    said = {words: say(words, **filled.get(words, {})) for words, has in done.items() if has}
    if MIX in said:
        said[MIX] = " ".join([said[MIX], *_mix_not_alike(findings)])
    return [*said.values()]


def _sizes_told(findings: Findings) -> list[dict[str, Any]]:
    return [s for s in findings["by_length"]["species"] if any(map(is_told, s["effects"]))]


def _of_lengths(findings: Findings) -> dict[str, str]:
    """By whose edges lengths are in bands, and among how many looks they are judged."""
    told = _sizes_told(findings)
    edges = [
        say(words, fish=listed([say(species["fish"]) for species in of]))
        for words, named in ((NAMED_BANDS, True), (OWN_BANDS, False))
        if (of := [species for species in told if species["edges_named"] == named])
    ]
    looks = findings["by_length"]
    return {
        "bands": "; ".join(edges),
        "judged": say(TOGETHER if looks["allowed_for"] else ALONE, **looks),
    }


def _mix_not_alike(findings: Findings) -> list[str]:
    """In what the ratios on a mix are not held alike, though those over all grounds are."""
    told = [row for row in findings["on_the_mix"] if row["low"] is not None]
    lacking = dict.fromkeys(name for row in told for name in not_alike_on_the_mix(row, findings))
    return [say(MIX_NOT_ALIKE, factors=listed(factor_words([*lacking])))] if lacking else []


def _any(rows: list[dict[str, object]], name: str) -> bool:
    """Whether any of the rows has it."""
    return any(row[name] for row in rows)
