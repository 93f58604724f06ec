#!/usr/bin/env python3
"""Writes the seeds of every fuzz target into FOLDER/TARGET/: files of the fixtures and of desk's tests, each in both
formats, and a few texts that people type. Usage: seeds.py FOLDER"""

import json
import pathlib
import sys
import tomllib

ROOT = pathlib.Path(__file__).resolve().parents[2]
TYPED = {
    "length": ["2450", "2.45 m", "2,450", "8' 3 1/2\"", "-12.5 cm", "1/2 in", "0.1 km", "3 ft"],
    "money": ["12.50", "3", "0.0125", "999999.99"],
}


def plain(value):
    """A date of TOML as JSON has it, a text."""
    return value.isoformat()


def inline(value):
    """A value as TOML writes it in one line; a null has no counterpart and is left out."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(k)} = {inline(v)}" for k, v in value.items() if v is not None) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(inline(v) for v in value) + "]"
    return json.dumps(value)


def as_toml(document):
    """A document as TOML, a line for each of its fields."""
    return "".join(f"{key} = {inline(value)}\n" for key, value in document.items() if value is not None)


def main(folder):
    made = {name: [text.encode() for text in texts] for name, texts in TYPED.items()}
    surveys = [json.loads((ROOT / path).read_text()) for path in ("core/desk/tests/files/survey.json", "fixtures/check/points.json")]
    catalogues = [tomllib.loads((ROOT / "core/desk/tests/files/catalogue.toml").read_text())]
    made["survey_json"] = [json.dumps(survey).encode() for survey in surveys]
    made["survey_toml"] = [as_toml(survey).encode() for survey in surveys]
    made["catalogue_json"] = [json.dumps(parts, default=plain).encode() for parts in catalogues]
    made["catalogue_toml"] = [(ROOT / "core/desk/tests/files/catalogue.toml").read_bytes()]
    made["plan_site"] = made["survey_json"]
    for name, seeds in made.items():
        (folder / name).mkdir(parents=True, exist_ok=True)
        for number, seed in enumerate(seeds):
            (folder / name / f"seed-{number}").write_bytes(seed)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(pathlib.Path(sys.argv[1]))
