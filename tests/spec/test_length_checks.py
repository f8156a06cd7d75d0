"""Length checks and stretch come to what was worked out by hand in `length_checks.md`."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from pipeline.joining.database import Database
from pipeline.rigs.stretching.goes_on import TO_COME, without_what_goes_on
from pipeline.rigs.stretching.length_checks import LENGTH_DIFFERENCES_SCHEMA, length_differences
from pipeline.rigs.stretching.length_remarks import length_check_remarks
from pipeline.rigs.stretching.pace import hours_by_rig
from pipeline.rigs.stretching.stretch import STRETCH_SCHEMA, stretch
from pipeline.rows import REFUSAL_SCHEMA
from tests.spec.test_rig_weights import worked_out
from tests.spec.text_tables import number, page_text, rows_of, table_from

RECORD_ENDS = datetime(2031, 6, 1)
RIG = {"vessel": "Skua", "rig_version": "bobbins-14"}
CHECKED: dict[str, pl.DataType] = {
    **dict.fromkeys(("vessel", "rig_version", "section"), pl.String()),
    "checked_on": pl.Datetime("us"),
    **dict.fromkeys(("hours", "ground_chain_m", "traveller_m"), pl.Float64()),
    **dict.fromkeys(("evened", "from_fitting"), pl.Boolean()),
}


def lines_of(heading: str) -> list[list[str]]:
    return rows_of(page_text("length_checks.md", heading))[1]


def about(cell: str) -> object:
    return pytest.approx(float(cell), abs=1e-4, rel=1e-4) if cell else None


def checked(rows: list[dict[str, object]], from_fitting: str) -> pl.DataFrame:
    """A table as `checked_lengths.sql` makes it; the checks are a day apart."""
    always = RIG | {"section": "bosom", "evened": None, "from_fitting": from_fitting == "yes"}
    days = [{"checked_on": RECORD_ENDS - timedelta(days=90 - place)} for place in range(len(rows))]
    return pl.DataFrame(
        [always | day | row for day, row in zip(days, rows, strict=True)], schema=CHECKED
    )


def checks_in(written: str) -> list[dict[str, object]]:
    """`100 h 0.5 % evened` and so on: of a bosom with a traveller of 20 m."""
    return [
        {
            "hours": float(hours),
            "ground_chain_m": 20 * (1 + float(percent) / 100) if percent else None,
            "traveller_m": 20.0,
            "evened": bool(evened),
        }
        for hours, percent, evened in re.findall(r"(\d+) h(?: (-?[\d.]+) %)?( evened)?", written)
    ]


def fished(hours: str) -> pl.DataFrame:
    row = RIG | {"hours": number(hours), "record_ends": RECORD_ENDS, "hours_per_day": 10.0}
    return pl.DataFrame([row]).drop_nulls()


@pytest.mark.parametrize("line", lines_of("Stretch"), ids=lambda line: line[0])
def test_the_rate_and_what_follows_from_it(line: list[str]) -> None:
    _, fitting, checks, hours_now, worked, rate, low, high, now, latest, to_go, day, advice = line
    differences = length_differences(checked(checks_in(checks), fitting))
    found = stretch(differences, fished(hours_now), 1.0, 200.0)
    (whole,) = found.filter(pl.col("section") == "whole").to_dicts()
    if worked:
        assert worked_out(worked) == pytest.approx(float(rate), abs=1e-4)
    for column, expected in {
        "percent_per_100_hours": rate,
        "low": low,
        "high": high,
        "difference_now_percent": now,
        "latest_percent": latest,
        "hours_to_limit": to_go,
    }.items():
        assert whole[column] == about(expected), column
    assert whole["day_of_limit"] == (date.fromisoformat(day) if day else None)
    assert "; ".join(whole["advice"]) == advice
    assert bool(whole["past_limit"]) == ("even now" in advice)
    assert whole["check_due"] == ("check now" in advice)


@pytest.mark.parametrize("line", lines_of("Stretch"), ids=lambda line: line[0])
def test_a_section_that_is_all_that_was_checked_is_as_the_whole(line: list[str]) -> None:
    differences = length_differences(checked(checks_in(line[2]), line[1]))
    found = stretch(differences, fished(line[3]), 1.0, 200.0)
    by_section = found.partition_by("section", as_dict=True)
    whole, bosom = by_section["whole",], by_section.get(("bosom",))
    if bosom is None:
        assert not line[2]
    else:
        assert_frame_equal(whole.drop("section"), bosom.drop("section"))


def test_limits_of_the_hours_and_days_to_the_limit() -> None:
    # Two checks from the fitting, as in the table: the line reaches 1 % after 100 / 0.48 hours,
    # at the earliest after 100 / 0.9882; as it may not climb at all, there is no latest.
    differences = length_differences(checked(checks_in("50 h 0.2 %; 100 h 0.5 %"), "yes"))
    (row,) = stretch(differences, fished("100"), 1.0, 200.0).to_dicts()[-1:]
    assert row["hours_to_limit_low"] == pytest.approx(100 / 0.98825 - 100, abs=1e-3)
    assert row["hours_to_limit_high"] is None
    assert (row["earliest_day"], row["latest_day"]) == (date(2031, 6, 1), None)


def test_a_line_in_mid_life_reaches_the_limit_where_its_interval_does() -> None:
    # 100, 200, 300, 400 hours: 0.1, 0.3, 0.4, 0.6 %. Rate 0.8 / 500 = 0.0016, mean 0.35 at 250;
    # left over 0.0002 + 0.0018, two degrees: s = √0.001. Of `at`: ± t s √(1/4 + d²/50000).
    written = "100 h 0.1 %; 200 h 0.3 %; 300 h 0.4 %; 400 h 0.6 %"
    differences = length_differences(checked(checks_in(written), "no"))
    (row,) = stretch(differences, fished("400"), 1.0, 200.0).to_dicts()[-1:]
    assert row["percent_per_100_hours"] == pytest.approx(0.16)
    error = 4.302652730 * 0.001**0.5

    def percent_at(hours: float, sign: int) -> float:
        from_middle = hours - 250
        level = 0.35 + 0.0016 * from_middle
        return float(level + sign * error * (0.25 + from_middle**2 / 50_000) ** 0.5)

    assert row["difference_now_low"] == pytest.approx(percent_at(400, -1))
    assert row["difference_now_high"] == pytest.approx(percent_at(400, 1))
    assert percent_at(400 + row["hours_to_limit_low"], 1) == pytest.approx(1.0)
    assert percent_at(400 + row["hours_to_limit_high"], -1) == pytest.approx(1.0)
    assert row["hours_to_limit"] == pytest.approx((1 - 0.59) / 0.0016)


@pytest.mark.parametrize("line", lines_of("Whole"), ids=lambda line: line[0])
def test_the_whole_gear(line: list[str]) -> None:
    _, *sections, worked, percent = line
    rows: list[dict[str, object]] = []
    for name, written in zip(("wing", "bunt", "bosom"), sections, strict=True):
        chain, _, traveller = (cell.strip() for cell in written.partition(" on"))
        lengths = {"ground_chain_m": number(chain), "traveller_m": number(traveller)}
        rows += [{"section": name, "hours": 10.0, "checked_on": RECORD_ENDS} | lengths]
    found = length_differences(checked(rows, "yes"))
    (whole,) = found.filter(pl.col("section") == "whole").to_dicts()
    assert worked_out(worked) == pytest.approx(float(percent), abs=1e-4)
    assert whole["difference_percent"] == pytest.approx(float(percent), abs=1e-4)


@pytest.mark.parametrize("line", lines_of("Spells"), ids=lambda line: line[0])
def test_the_spells_of_the_whole(line: list[str]) -> None:
    _, fitting, checks, spell, hours, even = line
    rows: list[dict[str, object]] = []
    for place, written in enumerate(checks.split("; ")):
        at, sections = written.split(" h ")
        for section in sections.split():
            rows += [
                {
                    "hours": float(at),
                    "checked_on": RECORD_ENDS + timedelta(days=place),
                    "section": section.removesuffix("*"),
                    "evened": section.endswith("*"),
                    "ground_chain_m": 5.0,
                    "traveller_m": 5.0,
                }
            ]
    whole = length_differences(checked(rows, fitting)).filter(pl.col("section") == "whole")
    assert ", ".join(str(number) for number in whole["spell"]) == spell
    assert ", ".join(f"{hours:g}" for hours in whole["hours_in_spell"]) == hours
    assert ", ".join("yes" if starts else "no" for starts in whole["starts_even"]) == even


@pytest.mark.parametrize("line", lines_of("Pace"), ids=lambda line: line[0])
def test_the_pace(line: list[str]) -> None:
    _, hauls, hours, pace = line
    towed = [(day, float(h)) for day, h in re.findall(r"([\d-]+) ([\d.]+) h", hauls)]
    frame = pl.DataFrame(
        [RIG | {"shot_at": datetime.fromisoformat(day), "tow_hours": h} for day, h in towed]
    ).with_columns(pl.col("tow_hours").cum_sum().alias("hours_to_date"))
    (row,) = hours_by_rig(frame).to_dicts()
    assert (row["hours"], row["hours_per_day"]) == (float(hours), pytest.approx(float(pace)))
    assert row["record_ends"] == datetime.fromisoformat(towed[-1][0])


@pytest.mark.parametrize(("day", "idle"), [(59, False), (60, True)])
def test_a_rig_that_lies_idle_has_no_pace(day: int, *, idle: bool) -> None:
    hauls = [(RIG, 0), (RIG | {"rig_version": LATER}, day)]
    frame = pl.DataFrame(
        [
            rig | {"shot_at": datetime(2031, 3, 1) + timedelta(days=at), "tow_hours": 3.0}
            for rig, at in hauls
        ]
    ).with_columns(hours_to_date=pl.lit(3.0))
    pace = {row["rig_version"]: row["hours_per_day"] for row in hours_by_rig(frame).to_dicts()}
    assert pace == {RIG["rig_version"]: None if idle else 3.0, LATER: 3.0}


FITTINGS = table_from(
    """
    | vessel | fitted_from      | rig_version |
    | Skua   | 2031-02-20 00:00 | rubber-10   |
    | Skua   | 2031-03-01 05:00 | bobbins-14  |
    """,
    "fittings",
)
FISHED = table_from(
    """
    | vessel | shot_at: moment  | rig_version |
    | Skua   | 2031-02-10 05:30 | rubber-10   |
    | Skua   | 2031-03-01 05:30 | bobbins-14  |
    """
)


@pytest.mark.parametrize(("check", "column", "cell", "reason"), lines_of("Remarks"))
def test_what_is_said_of_a_check(check: str, column: str, cell: str, reason: str) -> None:
    vessel, day, rig, lengths = (word.strip() for word in check.split(","))
    chain, _, traveller = (word.strip() for word in lengths.partition(" on"))
    checks = table_from(
        f"""
        | row | vessel   | checked_on  | section | rig_version | ground_chain_m | traveller_m |
        | 1   | {vessel} | {day} 00:00 | bosom   | {rig}       | {chain}        | {traveller} |
        """,
        "length_checks",
    )
    said = length_check_remarks(checks, FITTINGS, FISHED)
    assert dict(said.schema) == REFUSAL_SCHEMA
    assert said.rows() == ([(1, column, cell, reason)] if reason else [])


@pytest.mark.parametrize(("traveller", "checks", "says"), lines_of("Chain that went back"))
def test_chain_that_got_shorter_without_being_evened_is_asked_about(
    traveller: str, checks: str, says: str
) -> None:
    rows = []
    for at, check in enumerate(checks.split("; ")):
        evened, percent = check.endswith("*"), check.strip("*").removesuffix(" %")
        longer = None if percent == "none" else 1 + float(percent) / 100
        chain = f"{float(traveller) * longer:.4f}" if longer else ""
        lengths = f"{chain} | {traveller} | {'yes' if evened else 'no'}"
        rows.append(f"| {at} | Skua | 2031-03-0{4 + at} 00:00 | bosom | bobbins-14 | {lengths} |")
    heads = "row | vessel | checked_on | section | rig_version | ground_chain_m | traveller_m"
    table = table_from("\n".join([f"| {heads} | evened |", *rows]), "length_checks")
    said = length_check_remarks(table, FITTINGS, FISHED)
    assert said["row"].to_list() == ([len(rows) - 1] if says else [])
    assert all(f"makes {says}; chain does not shrink" in reason for reason in said["reason"])


def test_nobody_can_say_whether_what_was_never_checked_is_past_the_limit() -> None:
    never = stretch(length_differences(checked([], "yes")), fished("50"), 1.0, 200.0)
    assert never["past_limit"].to_list() == [None]


def test_no_checks_make_no_differences_and_no_rates() -> None:
    nothing = length_differences(pl.DataFrame(schema=CHECKED))
    assert dict(nothing.schema) == LENGTH_DIFFERENCES_SCHEMA
    assert nothing.is_empty()
    found = stretch(nothing, fished(""), 1.0, 200.0)
    assert dict(found.schema) == STRETCH_SCHEMA
    assert found.is_empty()


def test_a_rig_that_was_taken_off_and_fitted_again_goes_on_from_where_it_was() -> None:
    # 20 hours, off for a month, 20 hours: the chain that stretches 0.01 % an hour is at 0.4 %.
    given = {
        "hauls": """
            | row | vessel | shot_at          | tow_hours |
            | 1   | Skua   | 2031-03-02 05:00 | 20        |
            | 2   | Skua   | 2031-03-12 05:00 | 15        |
            | 3   | Skua   | 2031-04-12 05:00 | 20        |
        """,
        "fittings": """
            | vessel | fitted_from      | fitted_to        | rig_version |
            | Skua   | 2031-03-01 00:00 | 2031-03-10 00:00 | bobbins-14  |
            | Skua   | 2031-03-10 00:00 | 2031-04-10 00:00 | rubber-10   |
            | Skua   | 2031-04-10 00:00 |                  | bobbins-14  |
        """,
        "rig_versions": """
            | rig_version | changed_from |
            | bobbins-14  |              |
        """,
        "length_checks": """
        | row | vessel | checked_on       | section | rig_version | ground_chain_m | traveller_m |
        | 1   | Skua   | 2031-03-09 00:00 | bosom   | bobbins-14  | 20.04          | 20          |
        | 2   | Skua   | 2031-04-20 00:00 | bosom   | bobbins-14  | 20.08          | 20          |
        """,
    }
    with Database() as database:
        for name, text in given.items():
            database.put(name, table_from(text, name))
        database.make("rig_in_force")
        hours = database.make("fishing_hours")
        differences = length_differences(database.make("checked_lengths"))
        database.put("length_differences", differences)
        found = stretch(differences, hours_by_rig(hours), 1.0, 200.0)
        database.put("stretch", found)
        at_hauls = database.make("haul_length_differences").sort("row")
    (whole,) = found.filter(
        (pl.col("section") == "whole") & (pl.col("rig_version") == "bobbins-14")
    ).to_dicts()
    assert whole["percent_per_100_hours"] == pytest.approx(1.0)
    assert whole["difference_now_percent"] == pytest.approx(0.4)
    assert whole["hours_to_limit"] == pytest.approx(60)
    assert at_hauls["length_difference_percent"].to_list() == [
        pytest.approx(0.1),
        None,
        pytest.approx(0.3),
    ]


LATER = "bobbins-14-b"


@pytest.mark.parametrize(
    ("vessel", "day", "becomes_another"),
    [("Skua", 2, True), ("Skua", 0, False), ("Tern", 2, False)],
)
def test_of_a_rig_that_became_another_on_a_boat_nothing_to_come_is_told(
    vessel: str, day: int, *, becomes_another: bool
) -> None:
    hauls = [(RIG["vessel"], RIG["rig_version"], 1), (vessel, LATER, day)]
    fishing = pl.DataFrame(
        [(boat, rig, RECORD_ENDS + timedelta(days=at)) for boat, rig, at in hauls],
        schema=["vessel", "rig_version", "shot_at"],
        orient="row",
    )
    versions = pl.DataFrame(
        {"rig_version": [RIG["rig_version"], LATER], "changed_from": [None, RIG["rig_version"]]}
    )
    differences = length_differences(checked(checks_in("50 h 0.2 %; 100 h 0.5 %"), "yes"))
    before = stretch(differences, fished("100"), 1.0, 200.0)
    told = without_what_goes_on(before, versions, fishing)
    assert before["hours_to_limit"].null_count() == 0
    if not becomes_another:
        assert_frame_equal(told, before)
        return
    assert told.select(TO_COME).null_count().row(0) == (told.height,) * len(TO_COME)
    assert told["advice"].to_list() == [["goes on as a later version"]] * told.height
    assert told["goes_on_as"].to_list() == [LATER] * told.height
    assert not told["past_limit"].any()
    assert told["last_difference_percent"].to_list() == before["last_difference_percent"].to_list()
