"""The codes of the findings: what `findings.json` says where the report says a sentence.

The maps that put them into words are keyed by their members, and
`tests/spec/test_codes_in_words.py` holds that none of them lacks one.
"""

from __future__ import annotations

from enum import StrEnum


class Verdict(StrEnum):
    """What an interval of a ratio says."""

    LOWER = "lower"
    HIGHER = "higher"
    NO_DIFFERENCE = "no clear difference"
    TOO_LITTLE = "too little to tell"


CONTRARY = {Verdict.LOWER: Verdict.HIGHER, Verdict.HIGHER: Verdict.LOWER}
"""The verdicts of a clear difference, and the contrary of each."""

CLEAR = frozenset(CONTRARY)


class MoneyVerdict(StrEnum):
    """What an interval of money says."""

    PAYS = "pays"
    COSTS = "costs"
    NOT_TOLD = "can't be told"


class Caution(StrEnum):
    """What a ratio of two rigs is to be taken with, or why there is none."""

    NOT_FISHED_BOTH = "not both fished there"
    NOT_SIDE_BY_SIDE = "not side by side"
    FEW_SIDE_BY_SIDE = "too few hauls or trips side by side"
    UNTOLD_SIDE_BY_SIDE = "side by side, but not in the hauls that tell of it"
    FEW_TRIPS = "few trips"
    FEW_HAULS = "few hauls"
    FEW_WITH_SOME = "seen in few hauls"
    NONE_SEEN = "none seen"
    TOO_FEW_TRIPS = "too few trips to adjust"
    TOO_LITTLE_SHARED = "too little shared"
    SEPARATED = "seen with one of them only where both were fished"
    NOT_TOLD_APART = "bound up with the conditions"
    ONE_AFTER_OTHER = "fished one after the other, once"


class BoatWithout(StrEnum):
    """Why a boat gives no ratio to a mean over boats, beside the cautions of two rigs."""

    NOT_RECORDED = "not recorded"
    NEITHER_FISHED = "neither fished"
    RIG_NOT_FISHED = "rig not fished"
    REFERENCE_NOT_FISHED = "reference not fished"
    NONE_WITH_RIG = "none with the rig"
    NONE_WITH_REFERENCE = "none with the reference"


class ChangeWithout(StrEnum):
    """Why changes of rig together give no ratio, beside the cautions of the two sides."""

    TOO_FEW_TOLD = "fewer than two days with a ratio"


class TowsWithout(StrEnum):
    """Why tows that fished two rigs at once give no ratio of them."""

    FEW_TOWS = "fewer than six tows"
    NONE_SEEN = "none seen"
    FEW_WITH_SOME = "seen in few tows"


class InTurn(StrEnum):
    """What was left out in turn for an error."""

    TOWS = "tows"
    TRIPS = "trips"


class NetSides(StrEnum):
    """What was made of the sides on which the nets of a twin rig were towed.

    `CHANGED` where the rig was on either side, but too few tows had any to hold that alike.
    """

    NOT_WRITTEN = "not written"
    ONE_SIDE = "one side"
    HELD = "held alike"
    CHANGED = "changed"


class CameWith(StrEnum):
    """What can change together with a rig."""

    GROUND = "ground"
    TOW_LENGTH = "tow length"
    DEPTH = "depth"
    SEASON = "season"


class MeasureWithout(StrEnum):
    """Why nothing is told of a measure of the rigs."""

    NOT_MEASURED = "not measured"
    TOO_FEW_RIGS = "too few rigs"
    TOO_ALIKE = "rigs too alike in it"
    MOVES_WITH = "can't be told apart"
    TOO_FEW_TRIPS = "too few trips"


class OffTheLine(StrEnum):
    """Why a rig that was fished is not on the line through the rigs of a measure."""

    NOT_MEASURED = "not measured"
    NOT_SIDE_BY_SIDE = "not side by side with the reference"
    NO_RATIO = "no ratio of its own, as it had none or cannot be told from the rest"


class OtherWay(StrEnum):
    """In which other way a headline is tried."""

    SCATTER = "more scatter than chance"
    RANDOM_TRIPS = "trip as random effect"
    TRIMMED = "without the longest and heaviest hauls"
    WITHOUT_FAR = "without catches far beyond the others"
    SIDE_BY_SIDE = "side by side only"
    WITHIN_TRIPS = "within trips that fished both"
    WITHIN_TOWS = "within tows that fished both at once"
    YES_OR_NO = "each haul as damaged or not"
    UNKNOWN_SOUND = "unknown hauls as sound"
    TWO_PARTS = "how often and how much apart"


class WayNote(StrEnum):
    """Why another way gives no ratio or no limits, or what it fell to."""

    NOT_TOLD = "can't be told"
    NO_FIT = "no finite fit"
    NO_SCATTER = "no more scatter than chance"
    ONE_HAD_NONE = "one of them had none"
    ONCE_AT_MOST = "a haul has it once or not at all, which can't show such scatter"
    NO_LOTS = "too few hauls in a trip to tell how they scatter"
    FEW_WITHOUT = "hardly a haul had none"
    NO_UNKNOWN = "no haul is unknown"
    NONE_LEFT_OUT = "no haul is longer or heavier than the rest"
    NO_LIMITS = "too few trips for limits"
    NO_TRIP_FISHED_BOTH = "no trip fished both"
    FEW_FISHED_BOTH = "too few trips fished both for limits"
    OF_ITS_OWN = "told in a section of its own"
    POINTS_ALIKE = "points the same way, with too few such trips to tell by themselves"


class Stands(StrEnum):
    """Whether a headline stands when it is tried in other ways."""

    HOLDS = "holds"
    FADES = "fades"
    TURNS = "turns"
    APPEARS = "appears"
    NOT_TRIED = "not tried"


class HoursClaim(StrEnum):
    """What damage goes with."""

    PER_HOUR = "per hour"
    PER_HAUL = "per haul"
    NEITHER = "neither"
    NOT_TOLD = "can't tell"


class NoSlope(StrEnum):
    """Why it can't be told whether damage goes with the hours towed."""

    ALL_AS_LONG = "all hauls were about as long"
    TOO_LITTLE = "too little damage or too few trips"


class ErrorsBy(StrEnum):
    """How the error of a ratio is come by."""

    TRIP = "one trip left out at a time"
    SANDWICH = "clustered by trip"
    MODEL = "model"
    EXACT_LIMITS = "exact limits"
    PENALTY = "penalised likelihood"


class NoModel(StrEnum):
    """Why there is nothing to say of how a model fits."""

    NO_FIT = "no rate model could be fitted"
