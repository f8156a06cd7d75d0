"""Numbers in words, and parts of an hour, as skippers write them."""

from __future__ import annotations

WORDS = {
    "a": 1, "an": 1, "one": 1, "wan": 1, "yin": 1, "ane": 1, "ae": 1, "anither": 1, "another": 1,
    "one more": 1,
    "two": 2, "twa": 2, "couple": 2, "couple of": 2, "couple o": 2, "a couple of": 2,
    "a couple o": 2, "three": 3, "tree": 3, "dree": 3, "four": 4, "fower": 4, "five": 5,
    "six": 6, "sax": 6, "seven": 7, "seeven": 7, "eight": 8, "echt": 8, "eicht": 8, "aicht": 8,
    "aucht": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "twal": 12, "thirteen": 13, "fourteen": 14,
    "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
    "twenty": 20, "twinty": 20, "twenny": 20, "thirty": 30, "therty": 30, "forty": 40,
    "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
    "five and twenty": 25, "five-and-twenty": 25,
}  # fmt: skip
WORDS |= {
    "en": 1, "ein": 1, "eine": 1, "una": 1, "uma": 1, "une": 1, "tre": 3, "drie": 3, "drei": 3,
    "tres": 3, "trois": 3, "twee": 2, "zwei": 2, "dos": 2, "duas": 2, "deux": 2, "fire": 4,
    "vier": 4, "quatro": 4, "cuatro": 4, "quatre": 4, "fem": 5, "vijf": 5, "cinco": 5, "cinq": 5,
    "seks": 6, "zes": 6, "sechs": 6, "seis": 6, "sju": 7, "ti": 10, "tien": 10, "zehn": 10,
    "diez": 10, "dez": 10, "dix": 10, "femten": 15, "quince": 15, "quinze": 15, "tjue": 20,
    "tyve": 20, "twintig": 20, "zwanzig": 20, "veinte": 20, "vinte": 20, "vingt": 20,
    "tretti": 30, "dertig": 30, "treinta": 30, "trinta": 30, "trente": 30, "veertig": 40,
}  # fmt: skip
"""Norwegian, Danish, Dutch, German, Spanish, Portuguese, French; some crews mix them in."""
SINGLE_WORDS = "|".join(sorted(WORDS, key=len, reverse=True))
TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
ONES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
WORDS |= {
    f"{ten}{joint}{one}": WORDS[ten] + WORDS[one]
    for ten in TENS
    for one in ONES
    for joint in (" ", "-", "")
}
WORDS |= {
    f"{ten}{joint}five": WORDS[ten] + 5
    for ten in ("twinty", "twenny", "therty", "fourty")
    for joint in (" ", "-")
}
WORDS |= {"et": 1, "een": 1}
ONE_AND_A_HALF = {"halvannen": 1.5, "anderhalf": 1.5, "halvanden": 1.5, "anderthalb": 1.5}

PARTS_OF_ONE = {"1/2": 0.5, "1/4": 0.25, "3/4": 0.75, "1/3": 1 / 3}
PARTS_OF_AN_HOUR = PARTS_OF_ONE | {
    "half": 0.5, "hauf": 0.5, "'alf": 0.5, "alf": 0.5, "halve": 0.5, "haff": 0.5, "haf": 0.5,
    "hlf": 0.5, "halv": 0.5, "halbe": 0.5, "media": 0.5, "meia": 0.5, "demi": 0.5,
    "quarter": 0.25, "qtr": 0.25, "kwart": 0.25,
    "three quarter": 0.75, "three quarters": 0.75, "3 quarter": 0.75, "3 quarters": 0.75,
    "three parts": 0.75, "harf": 0.5, "bit": 0.25,
}  # fmt: skip

FRACTION = "1/2|1/4|3/4|1/3"
HALF = "half|harf|hauf|'alf|alf|halve?|halbe|haff?|hlf|media|meia|demi"
QUARTERS = "(?:three|3)[- ](?:quarters?|parts)"
IN_WORDS = rf"(?:{'|'.join(TENS)})[ -]?(?:{'|'.join(ONES)})|{SINGLE_WORDS}"
NUMBER = (
    rf"(?:\d{{1,4}}(?:[.,]\d+)?(?: ?(?:{FRACTION}|and (?:a half|{FRACTION})))?|\.\d+"
    rf"|{FRACTION}|\b(?:{IN_WORDS})\b(?: 1/2| 1/4| 3/4)?)"
)
