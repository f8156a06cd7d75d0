"""Weights in air and in sea water against published values and the trade's own rules.

A value from memory is a check on plausibility; its tolerance says so.
"""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

import pytest

from pipeline.rigs.weight.chains import (
    TABLES,
    Link,
    kg_per_m_from_geometry,
    link_of,
    links_per_m,
    table_chain,
)
from pipeline.rigs.weight.materials import MATERIALS, SEA_WATER_T_PER_M3, material_named
from pipeline.rigs.weight.ropes import FIBRE_FACTORS, WIRE_FACTORS, fibre_kg_per_m, wire_kg_per_m
from pipeline.rigs.weight.solids import Solid, sealed_share
from pipeline.rigs.weight.weights import part_weights
from tests.spec.text_tables import table_from

if TYPE_CHECKING:
    import polars as pl

    from pipeline.rigs.weight.chains import Standard

STEEL = MATERIALS["steel"]

# P = A (1 − ρw/ρm) with ρw = 1.026 (FAO, Fisherman's Workbook, 1990, from memory).
SHARES_KEPT = [
    ("steel", 7.85, 0.869),
    ("lead", 11.34, 0.910),
    ("cast iron", 7.2, 0.858),
    ("rubber", 1.15, 0.108),
    ("polyamide", 1.14, 0.100),
    ("polyethylene", 0.95, -0.080),
    ("polypropylene", 0.90, -0.140),
    ("manila", 1.48, 0.307),
    ("oak", 0.80, -0.283),
]


@pytest.mark.parametrize(("name", "density", "kept"), SHARES_KEPT)
def test_the_share_kept_is_the_one_that_the_density_gives(
    name: str, density: float, kept: float
) -> None:
    assert SEA_WATER_T_PER_M3 == 1.026
    assert MATERIALS[name].density == density
    assert MATERIALS[name].share_kept == pytest.approx(kept, abs=0.001)


def test_rubber_keeps_what_the_range_of_its_densities_allows() -> None:
    # 1.10–1.30 t/m³: 0.067–0.211 (from memory).
    rubber = MATERIALS["rubber"]
    assert 1 - SEA_WATER_T_PER_M3 / rubber.least == pytest.approx(0.067, abs=0.001)
    assert 1 - SEA_WATER_T_PER_M3 / rubber.most == pytest.approx(0.211, abs=0.001)


def test_a_material_goes_by_its_other_names_and_an_unknown_one_by_none() -> None:
    assert material_named(" Nylon ") is MATERIALS["polyamide"]
    assert material_named("grass") is MATERIALS["coir"]
    assert material_named("unobtainium") is None


@pytest.mark.parametrize(
    ("standard", "wire_mm", "pitch_mm", "kg_per_m"),
    # Table 1 of either standard (from memory, and as chain dealers print it).
    [
        ("DIN 766", 8, 24, 1.4),
        ("DIN 766", 10, 28, 2.2),
        ("DIN 766", 13, 36, 3.8),
        ("DIN 766", 16, 45, 5.7),
        ("DIN 766", 20, 56, 9.0),
        ("DIN 764", 13, 45, 3.5),
        ("DIN 764", 16, 56, 5.3),
        ("DIN 764", 26, 91, 14.0),
    ],
)
def test_chain(standard: Standard, wire_mm: float, pitch_mm: float, kg_per_m: float) -> None:
    known = table_chain(wire_mm, standard)
    assert known is not None
    assert known.link.pitch_mm == pitch_mm
    assert known.kg_per_m == kg_per_m
    assert kg_per_m_from_geometry(known.link, STEEL.density) == pytest.approx(kg_per_m, rel=0.05)


@pytest.mark.parametrize(
    ("wire_mm", "pitch_mm", "outer_width_mm", "least", "most"),
    # DIN 766's greatest outer width is 3.6 d, so its widest link is 1.6 d inside; the two
    # printed masses of 10 and of 16 mm chain differ by dealer (from memory).
    [(10, 28, 36, 2.2, 2.25), (16, 45, 58, 5.7, 5.8), (13, 36, 47, 3.8, 3.9)],
)
def test_the_widest_link_of_the_standard_is_within_five_per_cent_too(
    wire_mm: float, pitch_mm: float, outer_width_mm: float, least: float, most: float
) -> None:
    assert link_of(wire_mm).pitch_mm == pitch_mm
    widest = Link(wire_mm, pitch_mm, outer_width_mm - 2 * wire_mm)
    assert least * 0.95 < kg_per_m_from_geometry(widest, STEEL.density) < most * 1.05


def test_every_chain_of_the_tables_is_within_five_per_cent_of_its_geometry() -> None:
    for chains in TABLES.values():
        for chain in chains:
            reckoned = kg_per_m_from_geometry(chain.link, STEEL.density)
            # Printed to 0.1 kg a metre, which is 9 % of the lightest.
            assert reckoned == pytest.approx(chain.kg_per_m, rel=0.05, abs=0.07), chain


def test_every_chain_of_the_tables_is_near_one_of_its_proportions() -> None:
    for standard, chains in TABLES.items():
        for chain in chains:
            if chain.link.wire_mm < 8:
                continue  # short link chain of 6 and 7 mm is longer in proportion
            unlisted = link_of(chain.link.wire_mm + 1e-9, standard)
            reckoned = kg_per_m_from_geometry(unlisted, STEEL.density)
            assert reckoned == pytest.approx(chain.kg_per_m, rel=0.06), chain


def test_twenty_metres_of_sixteen_millimetre_chain() -> None:
    # 113.8 kg in air, 98.9 kg in sea water: DIN 766 by geometry, 1.2 d wide inside.
    in_air = 20 * kg_per_m_from_geometry(link_of(16), STEEL.density)
    assert in_air == pytest.approx(113.8, abs=0.05)
    assert in_air * STEEL.share_kept == pytest.approx(98.9, abs=0.05)
    assert 20 * links_per_m(link_of(16)) == pytest.approx(444.4, abs=0.1)


def test_twenty_metres_of_sixteen_millimetre_chain_as_a_part_of_a_rig() -> None:
    # The table's 5.7 kg/m is rounded to 0.1 kg: within 0.3 % of the geometry.
    (row,) = _weights("chain | steel | | 16 | | | 20 | |")
    assert row["mass_from"] == "chain table"
    assert row["mass_air_kg"] == pytest.approx(113.8, rel=0.003)
    assert row["weight_water_kg"] == pytest.approx(98.9, rel=0.003)


@pytest.mark.parametrize(
    ("construction", "core", "factor"),
    # EN 12385-4 (from memory): kg/m = W d²/100.
    [
        ("6x7", "fibre", 0.345),
        ("6x7", "steel", 0.384),
        ("6x19", "fibre", 0.359),
        ("6x19", "steel", 0.400),
        ("6x36", "fibre", 0.367),
        ("6x36", "steel", 0.409),
    ],
)
def test_wire_rope(construction: str, core: str, factor: float) -> None:
    assert wire_kg_per_m(10, (construction, core)) == pytest.approx(factor)
    assert wire_kg_per_m(20, (construction, core)) == pytest.approx(4 * factor)
    part = f"wire {construction} {core} core | steel | | 18 | | | 100 | |"
    (row,) = _weights(part)
    assert row["mass_air_kg"] == pytest.approx(100 * factor * 3.24)
    assert len(WIRE_FACTORS) == 6


@pytest.mark.parametrize(
    ("material", "circumference_inches", "pounds_per_100_feet"),
    # A rope dealer's table of three-strand rope, by circumference: 2, 6 and 9 inches.
    [
        ("manila", 6, 108),
        ("manila", 9, 242),
        ("polyamide", 6, 95),
        ("polyamide", 9, 210),
        ("polypropylene", 6, 69),
        ("polypropylene", 9, 153),
        ("polypropylene", 2, 7.5),
    ],
)
def test_fibre_rope(material: str, circumference_inches: float, pounds_per_100_feet: float) -> None:
    diameter_mm = circumference_inches * 25.4 / 3.141592653589793
    kg_per_m = fibre_kg_per_m(diameter_mm, material)
    assert kg_per_m == pytest.approx(pounds_per_100_feet * 0.45359237 / 30.48, rel=0.06)
    assert set(FIBRE_FACTORS) <= set(MATERIALS)


@pytest.mark.parametrize(
    ("in_air_kg", "in_water_kg"),
    # McHugh et al. 2015 (from memory, ±7 %): steel chain ground gears weighed in both.
    [(4.5, 3.80), (8.42, 6.88), (13.07, 11.20)],
)
def test_ground_gears_that_were_weighed_in_air_and_in_sea_water(
    in_air_kg: float, in_water_kg: float
) -> None:
    (row,) = _weights(f"chain | steel | 1 | | | | | {in_air_kg} |")
    assert row["mass_air_kg"] == in_air_kg
    assert row["weight_water_kg"] == pytest.approx(in_water_kg, rel=0.07)


@pytest.mark.parametrize(
    ("part", "kept"),
    # The trade's rules: common practice, no source.
    [
        ("discs | rubber", 0.05),
        ("rockhopper discs | rubber", 0.05),
        ("rockhoppers | tyre rubber", 0.05),
        ("spacers | tyre", 0.05),
        ("bobbins | rubber", 0.20),
        ("wheels | solid rubber", 0.20),
    ],
)
def test_the_trades_rules_go_before_the_density_and_both_are_shown(part: str, kept: float) -> None:
    (row,) = _weights(f"{part} | 10 | 300 | 100 | 50 | | 5 |")
    assert row["share_kept"] == row["share_by_rule"] == kept
    assert row["share_from"] == "trade rule"
    assert row["share_by_density"] == pytest.approx(0.108, abs=0.001)
    assert row["weight_water_kg"] == pytest.approx(50 * kept)
    # What lies between the rule and the density is within two standard deviations.
    assert abs(kept - row["share_by_density"]) == pytest.approx(2 * row["share_sd"])


def test_a_weighing_decides() -> None:
    (row,) = _weights("bobbins | rubber | 10 | 300 | 100 | 50 | | 5 | 0.13")
    assert row["share_kept"] == 0.13
    assert row["share_from"] == "weighed"
    assert row["share_by_rule"] == 0.20


def test_where_the_trade_has_no_rule_the_density_decides() -> None:
    (row,) = _weights("spacers | rubber | 10 | 150 | 200 | 50 | | 3.9 |")
    assert row["share_from"] == "density"
    assert row["share_by_rule"] is None
    assert row["share_kept"] == pytest.approx(0.108, abs=0.001)


def test_a_drilled_ball_keeps_what_geometry_says() -> None:
    # A ball drilled through its middle keeps π h³/6, h the length of the hole: here 80 mm.
    ball = Solid("bobbin", 100, 100, 60)
    assert ball.volume_dm3 == pytest.approx(pi * 0.8**3 / 6)
    assert Solid("cylinder", 100, 100, 60).volume_dm3 == pytest.approx(pi / 4 * 0.64)


def test_a_wall_that_leaves_no_hollow_makes_a_solid() -> None:
    for solid in (Solid("bobbin", 100, 100, 20), Solid("cylinder", 100, 30, 20)):
        assert solid.shell_dm3(60) == solid.volume_dm3
        assert 0 < solid.shell_dm3(1) < solid.shell_dm3(2) < solid.volume_dm3


@pytest.mark.parametrize(("diameter", "width", "bore"), [(50, 60, 50), (50, 60, 70), (50, 0, 10)])
def test_a_body_of_which_nothing_is_left_is_refused(
    diameter: float, width: float, bore: float
) -> None:
    with pytest.raises(ValueError, match="no body is"):
        Solid("cylinder", diameter, width, bore)


def test_a_link_wider_than_it_is_long_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot be 50 mm wide"):
        kg_per_m_from_geometry(Link(16, 45, 50), STEEL.density)


def test_a_sealed_body_floats_by_all_that_it_displaces() -> None:
    # Archimedes: a ball of 356 mm displaces 23.62 dm³, 24.24 kg of sea water.
    ball = Solid("bobbin", 356, 356)
    assert 24.24 * (1 - sealed_share(24.24, ball)) == pytest.approx(24.24, rel=1e-3)
    assert sealed_share(30, ball) * 30 == pytest.approx(30 - 24.24, abs=0.01)


def test_a_hollow_bobbin_is_unsure_by_half_of_what_flooding_makes() -> None:
    # It keeps 0.869 flooded; sealed it would float, which no ground gear does: (0.869 − 0) / 2.
    (row,) = _weights("bobbin | steel | 1 | 356 | | | | 20 |")
    assert row["share_from"] == "density"
    assert row["share_sd"] == pytest.approx(0.869 / 2, abs=0.001)


def _weights(*parts: str) -> list[dict[str, float | str | None]]:
    """The weights of parts written as: part, material, count, diameter, width, bore, length, …"""
    names = (
        "rig_version | section | line | part | material | count | diameter_mm | width_mm "
        "| bore_mm | length_m | each_kg | weight_kept_in_water"
    )
    rows = [f"| a | bosom | {line} | {part} |" for line, part in enumerate(parts)]
    table: pl.DataFrame = table_from("\n".join((f"| {names} |", *rows)), "rig_parts")
    return part_weights(table).to_dicts()
