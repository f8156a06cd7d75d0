"""An invented season is the same for the same seed, whole at any size, and true to its truth."""

import subprocess
import sys
import tomllib
from pathlib import Path

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from synthetic_data import InventedSeason, invent_season, write_season
from synthetic_data.season import ImpossibleSeasonError
from synthetic_data.voices import VOICES
from synthetic_data.writing import DECK_LOG, DECK_LOG_ENCODING

OUTCOMES = ("damage_events", "debris_kg", "bottom_living_kg", "other_kg")
KEY = ["vessel", "trip", "haul"]
LOG_KEY = {"Boat": "vessel", "Trip": "trip", "Haul no": "haul"}
FEWEST_PHRASES = 60

any_size = given(
    boats=st.integers(1, 30), hauls=st.integers(60, 400), seed=st.integers(0, 2**32 - 1)
)
few_examples = settings(max_examples=12, deadline=None)


def written_bytes(folder: Path) -> dict[str, bytes]:
    """Every file of the folder by name."""
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def deck_log(season: InventedSeason) -> pl.DataFrame:
    """Return the log's good hauls, by the names of the key columns."""
    keys = season.known_hauls.select(KEY)
    log = season.tables["hauls"].rename(LOG_KEY)
    return keys.join(log, on=KEY, how="left", maintain_order="left")


def rig_by_fitting(season: InventedSeason) -> pl.DataFrame:
    """Return each good haul with the rig that the last fitting before its shot names."""
    fittings = season.tables["fittings"].select(
        "vessel",
        pl.col("fitted_from").str.to_datetime("%Y-%m-%d %H:%M", time_unit="ms"),
        fitted="rig_version",
    )
    return season.known_hauls.sort("shot_at").join_asof(
        fittings.sort("fitted_from"),
        left_on="shot_at",
        right_on="fitted_from",
        by="vessel",
        check_sortedness=False,
    )


def test_same_seed_writes_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one", "two"):
        write_season(tmp_path / name, hauls=200, seed=11)
    assert written_bytes(tmp_path / "one") == written_bytes(tmp_path / "two")


def test_another_seed_writes_another_season(tmp_path: Path) -> None:
    write_season(tmp_path / "one", hauls=200, seed=11)
    write_season(tmp_path / "two", hauls=200, seed=12)
    one, two = written_bytes(tmp_path / "one"), written_bytes(tmp_path / "two")
    for name in (DECK_LOG, "catches.csv", "fittings.csv", "length_checks.csv"):
        assert one[name] != two[name]
    assert one["season.toml"] == two["season.toml"]


def test_module_writes_the_folder(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "synthetic_data", str(tmp_path / "season"), "--hauls", "60"]
    subprocess.run(command, check=True)
    names = set(written_bytes(tmp_path / "season"))
    assert {"season.toml", "truth.toml", "NOTE.txt", DECK_LOG, "catches.csv"} <= names


@pytest.mark.parametrize(("boats", "hauls"), [(0, 100), (31, 100), (4, 59)])
def test_impossible_sizes_are_refused(boats: int, hauls: int) -> None:
    with pytest.raises(ImpossibleSeasonError):
        invent_season(boats, hauls)


@few_examples
@any_size
def test_any_size_has_its_hauls_and_its_spoilt_rows(boats: int, hauls: int, seed: int) -> None:
    sound = invent_season(boats, hauls, seed, spoilt=False)
    spoilt = invent_season(boats, hauls, seed)
    added = spoilt.truth["spoilt_rows_added"]
    assert isinstance(added, dict)
    assert sound.known_hauls.height == sound.tables["hauls"].height == hauls
    assert sound.known_hauls["vessel"].n_unique() == boats
    for table in ("hauls", "catches"):
        more = spoilt.tables[table].height - sound.tables[table].height
        assert more == added[table]


@few_examples
@any_size
def test_a_boat_fishes_one_haul_at_a_time(boats: int, hauls: int, seed: int) -> None:
    known = invent_season(boats, hauls, seed, spoilt=False).known_hauls
    assert known.select(KEY).is_unique().all()
    hauled = pl.col("shot_at") + pl.duration(minutes=(pl.col("tow_hours") * 60).round())
    waits = known.select((pl.col("shot_at") - hauled.shift(1)).over("vessel").drop_nulls())
    assert (waits.to_series().dt.total_minutes() > 0).all()


@few_examples
@any_size
def test_the_fitting_names_the_rig_of_every_haul(boats: int, hauls: int, seed: int) -> None:
    season = invent_season(boats, hauls, seed)
    fitted = rig_by_fitting(season)
    assert (fitted["fitted"] == fitted["rig_version"]).all()


def test_a_share_of_hauls_leaves_the_rig_to_the_fitting() -> None:
    gear = deck_log(invent_season(spoilt=False))["Gear"]
    assert (gear == "").mean() == pytest.approx(0.15, abs=0.03)


@few_examples
@any_size
def test_every_catch_has_its_haul_and_every_haul_a_catch(boats: int, hauls: int, seed: int) -> None:
    season = invent_season(boats, hauls, seed, spoilt=False)
    catches = season.tables["catches"]
    assert catches.join(season.known_hauls, on=KEY, how="anti").is_empty()
    assert catches.select(*KEY, "species").is_unique().all()
    # Plaice and haddock are in nearly every haul, so a haul of no catch record is very rare.
    caught = catches.select(KEY).unique().height
    assert caught >= hauls - 1


def test_truth_names_every_rig_version_and_every_boat(tmp_path: Path) -> None:
    write_season(tmp_path, boats=5, hauls=100)
    truth = tomllib.loads((tmp_path / "truth.toml").read_text(encoding="utf-8"))
    settings_of_season = tomllib.loads((tmp_path / "season.toml").read_text(encoding="utf-8"))
    rigs = set(pl.read_csv(tmp_path / "rig_versions.csv")["rig_version"])
    reference = settings_of_season["season"]["reference_rig"]
    for outcome in OUTCOMES:
        assert set(truth[outcome]) == rigs
        assert truth[outcome][reference] == 1.0
    boats = set(pl.read_csv(tmp_path / "vessels.csv")["vessel"])
    assert set(truth["vessel"]["damage_events"]) == boats
    assert (truth["seed"], truth["boats"], truth["hauls"]) == (7, 5, 100)


def test_season_toml_names_only_headings_of_the_deck_log(tmp_path: Path) -> None:
    write_season(tmp_path, hauls=60)
    hauls = tomllib.loads((tmp_path / "season.toml").read_text(encoding="utf-8"))["hauls"]
    text = (tmp_path / hauls["file"]).read_text(encoding=hauls["read"]["encoding"])
    headings = text.splitlines()[0].split(hauls["read"]["separator"])
    used = list(hauls["keep"])
    for source in hauls["columns"].values():
        origin = source["from"] if isinstance(source, dict) else source
        used += origin if isinstance(origin, list) else [origin]
    assert sorted(used) == sorted(headings)


def test_what_the_log_says_of_damage_is_what_happened() -> None:
    season = invent_season(spoilt=False)
    log = deck_log(season).with_columns(season.known_hauls["damaged", "note_kind"])
    said = log.filter(pl.col("Damage") != "")
    assert ((said["Damage"] == "Y") == said["damaged"]).all()
    only_notes = log.filter(pl.col("Damage") == "")
    assert 0 < only_notes["vessel"].n_unique() < log["vessel"].n_unique()
    # A blank note is as common whether or not the net was torn, so it hides no difference.
    assert (only_notes["Remarks"] == "").mean() == pytest.approx(0.04, abs=0.02)
    told = only_notes.filter(pl.col("note_kind") != "blank")
    assert ((told["note_kind"] == "damaged") == told["damaged"]).all()


def test_damage_is_frequent_enough_to_learn_from() -> None:
    known = invent_season(spoilt=False).known_hauls
    assert 0.12 < known.select(pl.col("damaged").mean()).item() < 0.18


def test_raw_rates_mislead_about_the_rockhopper() -> None:
    rates = (
        invent_season(spoilt=False)
        .known_hauls.group_by("rig_version")
        .agg(rate=pl.col("damaged").sum() / pl.col("tow_hours").sum())
    )
    by_rig = dict(rates.iter_rows())
    assert by_rig["rockhopper-16"] > by_rig["bobbins-14"]


def test_notes_have_many_voices_and_fit_the_encoding() -> None:
    phrases = [
        phrase
        for voice in VOICES
        for phrase in (*voice.damaged, *voice.clean, *voice.near, voice.old_hole)
    ]
    assert len(phrases) >= FEWEST_PHRASES
    notes = invent_season(spoilt=False).known_hauls["note"]
    assert "".join(notes).encode(DECK_LOG_ENCODING)
    assert not notes.str.contains(r"[{}]").any()
