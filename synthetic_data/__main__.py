"""Write an invented season: ``python -m synthetic_data DIR --boats 4 --hauls 1500 --seed 7``."""

import argparse
from pathlib import Path

from synthetic_data.co_op import write_co_op
from synthetic_data.fleet import MOST_BOATS
from synthetic_data.measured_season import write_measured_season
from synthetic_data.season import FEWEST_HAULS, ImpossibleSeasonError
from synthetic_data.writing import write_season


def main() -> None:
    """Read the command line and write the season folder."""
    parser = argparse.ArgumentParser(
        prog="synthetic_data",
        description="Write an invented trawl season whose true rig differences are known.",
    )
    parser.add_argument("folder", type=Path, help="folder to write the season into")
    parser.add_argument("--boats", type=int, default=4, help=f"1 to {MOST_BOATS}")
    parser.add_argument("--hauls", type=int, default=1500, help=f"{FEWEST_HAULS} or more")
    parser.add_argument("--seed", type=int, default=7, help="same seed, same season")
    parser.add_argument("--unspoilt", action="store_true", help="leave out the spoilt rows")
    parser.add_argument(
        "--co-op",
        action="store_true",
        help="a folder of season folders, one a boat and year, each log kept in its own way",
    )
    parser.add_argument(
        "--measured",
        action="store_true",
        help="rates that follow the rigs' measures by a known law; only --seed is heeded then",
    )
    asked = parser.parse_args()
    if asked.measured:
        write_measured_season(asked.folder, asked.seed)
        return
    try:
        if asked.co_op:
            write_co_op(asked.folder, boats=asked.boats, hauls=asked.hauls, seed=asked.seed)
            return
        write_season(
            asked.folder,
            boats=asked.boats,
            hauls=asked.hauls,
            seed=asked.seed,
            spoilt=not asked.unspoilt,
        )
    except ImpossibleSeasonError as problem:
        parser.error(str(problem))


if __name__ == "__main__":
    main()
