"""The invented fishery: its grounds, rig versions and species, and what truly differs.

Every effect here multiplies a rate per tow hour and none depends on another, so a
log-linear model of rates that adjusts for ground, boat and time of year recovers them.
Damage, debris and fish of each group have their own effects.
"""

from dataclasses import dataclass

REFERENCE_RIG = "bobbins-14"
CHANGED_RIG = "bobbins-14-b"
ROUGH_RIG = "rockhopper-16"

# Rates per tow hour with the reference rig on sand, an average boat, in the first quarter.
DAMAGED_HAULS_PER_HOUR = 0.018
DEBRIS_KG_PER_HOUR = 4.0
BOTTOM_LIVING_KG_PER_HOUR = 22.0
OTHER_KG_PER_HOUR = 60.0

# Multipliers by quarter of the year, and for spring tides against neaps.
QUARTER_DAMAGE = (1.0, 0.85, 0.8, 1.15)
QUARTER_DEBRIS = (1.0, 0.9, 0.85, 1.1)
QUARTER_BOTTOM_LIVING = (1.0, 1.25, 1.15, 0.9)
QUARTER_OTHER = (1.0, 0.9, 1.1, 1.2)
SPRINGS_DAMAGE = 1.2

# Catch falls as depth grows, by this power of depth over 100 m.
DEPTH_POWER = -0.3


@dataclass(frozen=True)
class Ground:
    """One kind of ground: where it lies, how it is towed and its effects against sand."""

    word: str
    letter: str
    share_of_trips: float
    neighbours: tuple[str, ...]
    tow_hours: float
    depth_fathom: float
    latitude: float
    longitude: float
    damage: float
    debris: float
    bottom_living: float
    other: float


GROUNDS = (
    Ground("mud", "M", 0.18, ("sand", "mixed"), 3.7, 72, 58.45, 0.60, 0.5, 1.4, 1.25, 0.8),
    Ground("sand", "S", 0.22, ("mud", "mixed"), 3.5, 45, 57.35, 1.10, 1.0, 1.0, 1.0, 1.0),
    Ground("stones", "ST", 0.15, ("mixed", "hard"), 3.0, 41, 57.80, 2.05, 3.0, 4.0, 0.8, 1.1),
    Ground("mixed", "MX", 0.18, ("sand", "stones"), 3.2, 50, 57.95, 1.35, 1.8, 2.4, 0.9, 1.1),
    Ground("hard", "H", 0.15, ("stones", "rocky"), 2.6, 56, 58.30, 2.30, 7.0, 3.0, 0.6, 1.25),
    Ground("rocky", "RK", 0.12, ("hard", "stones"), 2.1, 61, 58.70, 1.75, 11.5, 4.5, 0.45, 1.35),
)


@dataclass(frozen=True)
class RigVersion:
    """One way of rigging: its measures, its true ratios to the reference, and its use.

    ``pull`` says how readily a skipper who carries it fits it for a trip to each ground,
    in the order of ``GROUNDS``.
    """

    name: str
    rig: str
    ground_gear: str
    toggle_mm: int
    fishing_line_slack_m: float
    gap_mm: int | None
    wing_end_spread_m: float | None
    damage: float
    bottom_living: float
    debris: float
    pull: tuple[float, float, float, float, float, float]
    changed_from: str = ""
    what_changed: str = ""


_BOBBINS_PULL = (0.28, 0.34, 0.34, 0.42, 0.14, 0.07)
RIG_VERSIONS = (
    RigVersion(
        "chain-13", "chain", "chain", 90, 0.2, 40, None, 1.8, 1.3, 2.2,
        (0.25, 0.25, 0.05, 0.08, 0, 0),
    ),
    RigVersion(
        "grass-60", "grass rope", "grass rope", 100, 0.15, None, None, 1.55, 1.25, 1.5,
        (0.30, 0.25, 0.02, 0.05, 0, 0),
    ),
    RigVersion(
        "rounded-70", "rounded", "rope rounded", 110, 0.15, None, None, 1.4, 1.2, 1.3,
        (0.15, 0.20, 0.12, 0.12, 0.03, 0),
    ),
    RigVersion(
        "discs-6", "discs", "rubber discs", 150, 0.15, 65, 21.0, 1.2, 1.1, 1.15,
        (0.15, 0.20, 0.22, 0.20, 0.10, 0.03),
    ),
    RigVersion(
        "discs-8-trial", "discs", "rubber discs", 180, 0.15, 75, None, 0.9, 1.05, 0.9,
        (0.75, 0.12, 0, 0.02, 0, 0), "discs-6",
        "8 inch discs in place of 6 inch, toggles 180 mm, on trial",
    ),
    RigVersion(
        REFERENCE_RIG, "bobbins", "bobbins", 350, 0.4, 135, 21.0, 1.0, 1.0, 1.0, _BOBBINS_PULL
    ),
    RigVersion(
        CHANGED_RIG, "bobbins", "bobbins", 250, 0.4, 20, 21.0, 1.15, 1.15, 1.2, _BOBBINS_PULL,
        REFERENCE_RIG, "toggles cut from 350 to 250 mm",
    ),
    RigVersion(
        ROUGH_RIG, "rockhopper", "rockhopper", 240, 0.15, None, 21.0, 0.55, 0.75, 0.6,
        (0.01, 0.02, 0.12, 0.10, 0.60, 0.80),
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Species:
    """A species by its FAO ASFIS code, its share of its group's kg, and its price.

    ``share`` is in the order of ``GROUNDS`` and is scaled to add up to one over the group,
    so the group's total keeps the plain ground effect. ``seen`` is the share of hauls that
    have any at all.
    """

    code: str
    share: tuple[float, float, float, float, float, float]
    seen: float
    kept: float
    price_per_kg: float


BOTTOM_LIVING = (
    Species("PLE", (0.15, 0.50, 0.40, 0.40, 0.25, 0.15), 1.0, 0.80, 2.60),
    Species("LEM", (0.05, 0.20, 0.25, 0.25, 0.25, 0.20), 0.85, 0.92, 4.90),
    Species("MON", (0.20, 0.15, 0.30, 0.25, 0.50, 0.65), 0.80, 0.98, 5.40),
    Species("NEP", (0.60, 0.15, 0.05, 0.10, 0.02, 0.01), 0.70, 0.88, 8.20),
)
OTHER_FISH = (
    Species("HAD", (0.25, 0.30, 0.30, 0.30, 0.25, 0.25), 1.0, 0.85, 1.90),
    Species("WHG", (0.20, 0.25, 0.15, 0.20, 0.10, 0.08), 0.95, 0.60, 1.30),
    Species("COD", (0.12, 0.12, 0.25, 0.20, 0.28, 0.30), 0.90, 0.95, 3.70),
    Species("POK", (0.06, 0.03, 0.10, 0.08, 0.18, 0.22), 0.60, 0.95, 1.60),
    Species("HKE", (0.20, 0.08, 0.06, 0.08, 0.10, 0.08), 0.75, 0.93, 3.10),
    Species("MAC", (0.08, 0.10, 0.06, 0.06, 0.04, 0.03), 0.40, 0.40, 1.10),
    Species("HOM", (0.05, 0.07, 0.04, 0.04, 0.03, 0.02), 0.30, 0.25, 0.80),
    Species("SQC", (0.04, 0.05, 0.04, 0.04, 0.02, 0.02), 0.45, 0.99, 6.30),
)
SPECIES = BOTTOM_LIVING + OTHER_FISH
