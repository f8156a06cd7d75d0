"""The parts of the report that are the same for every season."""

from __future__ import annotations

from schemas.words import saying

HOW_TO_READ = (
    saying("A rate is what happened or was caught per hour towed."),
    saying(
        "A ratio sets a rig's rate against the reference rig's: 0.60 is 40 % less, 1.50 is 50 % "
        "more."
    ),
    saying(
        "The interval is the range that the record can't rule out. It is meant to hold the true "
        "ratio in 19 of 20 such seasons. Hauls of one trip are not independent, so it is worked "
        "out from trip to trip, where trips are unlike one another by more than chance."
    ),
    saying(
        "Clear means that the whole interval lies on one side of 1. No clear difference: the "
        "interval leaves out every difference worth knowing, which is not to say that the two are "
        "alike: unless the season says otherwise, a fifth less or a quarter more fish or money is "
        "worth knowing, and of damage, time and cost only half or twice as much. Too little to "
        "tell: it does not. Where fewer than five hauls of either rig had any of it, the exact "
        "limits of their numbers must leave out 1 as well, and of weights nothing is told. In net "
        "damage and bottom-living fish "
        "over all grounds it is the interval that holds for all rigs together, which is wider than "
        "the one shown; clear by itself only: the one shown would be clear, and the wider one is "
        "not. Whatever else is compared is judged by itself, and said to be."
    ),
    saying(
        "Could have shown: the ratios that the season had four chances in five to make clear, had "
        "they been true. The hauls of each, for a halving or what else is worth knowing, are "
        "reckoned at the reference's rate, with this season's spread between trips, both rigs "
        "fished alike often, and are not told where the season had enough."
    ),
    saying(
        "A blank cell is not recorded, which is not zero. A haul that says nothing of an outcome "
        "is left out of it; one whose catch is written had none of the species that it does not "
        "name."
    ),
)

FOUL_TOWS = saying(
    "Catches are those of tows that were good: a foul tow, or one hauled early, counts for damage "
    "and not for fish. What a rig loses by foul tows is not in its rates of fish."
)
NO_FOUL_TOWS = saying(
    "No haul is marked foul in this record, so hauls with damage count for fish too."
)

LIKE_FOR_LIKE = saying(
    "Like for like means: compared between hauls that are alike in {factors}, as far as the "
    "records tell. The raw ratio takes no account of that, and misleads where the heavy gear goes "
    "to the hard ground."
)
NOTHING_ALIKE = saying(
    "Nothing is held alike between the hauls that are compared, and a raw ratio misleads where the "
    "heavy gear goes to the hard ground."
)
"""What is said between a ratio and its interval, by what the season's ratios are adjusted for."""

CAN_TELL = (
    saying(
        "It can tell which rig versions went with less damage or more bottom-living fish under "
        "like conditions. It can't tell why: a skipper may use a rig on days that differ in ways "
        "nobody wrote down."
    ),
    saying(
        "It can't tell apart two rigs that were never fished under the same conditions, and says "
        "so instead of guessing."
    ),
)

WEIGHT_WORDS = (
    saying(
        "Weights are worked out from the parts: weighed where somebody did, else from their size. "
        "What a part keeps in water is its own weighing, else the trade's rule (discs stamped from "
        "tyres keep about 5 %, solid rubber bobbins and wheels about 20 %; common practice, no "
        "source), else its material's density. Two wings, two bunts and a bosom make the whole; ± "
        "holds 19 times in 20."
    ),
)

CAUTIONS = (
    saying(
        "Heavier or larger gear changes the boat's stability and the load on winch, warps, blocks "
        "and gallows. Before a change of gear, ask the boat's naval architect or surveyor."
    ),
    saying(
        "Local rules on gear decide what may be fished: size of discs and bobbins, closed grounds, "
        "and more. They come before anything in this report."
    ),
    saying(
        "This report says what happened in the hauls that were recorded. It never says that a rig "
        "is without danger, and it takes no decision: that is the skipper's, with licensed "
        "people's advice."
    ),
    saying(
        "Sources: FAO/ILO/IMO, Code of Safety for Fishermen and Fishing Vessels, 2005; ILO, Work "
        "in Fishing Convention, 2007 (No. 188)."
    ),
)

ADVICE_CAUTION = saying(
    "Changing to heavier or larger gear: first the naval architect or surveyor, and local rules."
)
