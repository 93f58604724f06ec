#!/usr/bin/env python3
"""Writes the seeds of every fuzz target into FOLDER/TARGET/: files of the fixtures and of desk's tests, each in both
formats, documents made from the schemas so that every field and every word is met, which is checked, and a few texts that
people type; and into FOLDER/smallest/TARGET/ one small seed for the search for a planted
fault: the fewer numbers a file has, the sooner each is tried. Usage: seeds.py FOLDER"""

import csv
import io
import json
import pathlib
import sys
import tomllib

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(HERE))
sys.dont_write_bytecode = True

import exchange_seeds  # noqa: E402
from from_schema import Maker, field_names, met, words  # noqa: E402

TYPED = {
    "length": ["2450", "2.45 m", "2,450", "8' 3 1/2\"", "-12.5 cm", "1/2 in", "0.1 km", "3 ft"],
    "money": ["12.50", "3", "0.0125", "999999.99"],
}
SURVEYS = [
    "core/desk/tests/files/survey.json",
    "fixtures/check/points.json",
    "fixtures/check/modules.json",
    "fixtures/check/controls.json",
]
CATALOGUES = [
    "core/desk/tests/files/catalogue.toml",
    "fixtures/check/catalogue.toml",
    "fixtures/check/modules.toml",
    "fixtures/check/controls.toml",
]
# Every digit stands in its place already: tests/fuzz/src/typed.rs plants its faults behind eight of them.
SMALLEST_TYPED = {"length": "11111111.111", "money": "111111111.1111"}

# One rail of one straight and one bend: tests/fuzz/src/files.rs plants its fault behind these numbers.
SMALLEST_SURVEY = {
    "schema_version": 1,
    "site": {
        "id": "a",
        "label": "a",
        "exposure": {
            "setting": "indoor_dry",
            "public_reach": "staff",
            "least_temperature_c": 20,
            "greatest_temperature_c": 25,
            "in_sun": False,
        },
    },
    "rails": [
        {
            "id": "a",
            "label": "a",
            "walked_side": "left",
            "start_end": "open",
            "far_end": "open",
            "pieces": [
                {"kind": "straight", "id": "a", "length_mm": 4000, "slope_deg": 0},
                {"kind": "bend", "id": "b", "angle_deg": 90, "plane": "left", "centreline_radius_mm": 150},
            ],
            "tube": {"profile": "round", "outside_diameter_mm": 40, "material": "brass"},
        }
    ],
}
# One small part and the labour, for the same reason.
SMALLEST_CATALOGUE = {
    "schema_version": 1,
    "label": "a",
    "currency": "EUR",
    "priced_on": "2026-01-15",
    "fixings": [{"part": "a", "description": "a", "price": 4, "purpose": "clip"}],
    "labour": {
        "hour_price": 50,
        "hole_minutes": 6,
        "point_minutes": 8,
        "module_minutes": 10,
        "driver_minutes": 40,
        "lead_minutes_per_10_m": 20,
        "thread_minutes_per_10_m": 20,
        "connection_minutes": 8,
    },
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


def flat(value, prefix=""):
    """A part as a text for each field, tables within it by names with points."""
    if isinstance(value, dict):
        return {name: text for key, below in value.items() for name, text in flat(below, f"{prefix}{key}.").items()}
    name = prefix[:-1]
    if isinstance(value, str) and name in ("shape.retention", "device", "purpose"):
        return {f"{name}.kind": value}
    if isinstance(value, list):
        items = [f"{v['length_mm']} = {v['price']}" if isinstance(v, dict) else v for v in value]
        return {name: "; ".join(items)}
    return {name: {True: "yes", False: "no"}.get(value, value) if isinstance(value, bool) else str(value)}


def as_csv(catalogue):
    """Each list of parts as CSV, as spreadsheets of two countries write it; of prices alone too."""
    for name in ("luminaires", "drivers", "leads", "controls", "fixings"):
        rows = [flat(part) for part in catalogue.get(name, [])]
        if not rows:
            continue
        columns = list(dict.fromkeys(column for row in rows for column in row))
        for separator, mark, names in ((",", ".", columns), (";", ",", columns), (";", ",", ["part", "price"])):
            out = io.StringIO()
            writer = csv.DictWriter(out, names, delimiter=separator, extrasaction="ignore", lineterminator="\r\n")
            writer.writeheader()
            is_number = lambda text: text.replace(".", "", 1).isdigit()  # noqa: E731
            for row in rows:
                writer.writerow({k: v.replace(".", mark) if is_number(v) else v for k, v in row.items()})
            yield out.getvalue()


def from_schemas(names, others):
    """Documents made from the first schema; ends where a field or word of any of them is in none of all documents."""
    schemas = [json.loads((ROOT / f"fixtures/schemas/{name}.schema.json").read_text()) for name in names]
    made = Maker(schemas[0]).documents()
    fields, texts = met(others + made)
    for name, schema in zip(names, schemas):
        missing = sorted(field_names(schema) - fields) + sorted(words(schema) - texts)
        if missing:
            sys.exit(f"seeds.py: no seed has these fields or words of {name}: {', '.join(missing)}")
    return made


def main(folder):
    made = {name: [text.encode() for text in texts] for name, texts in TYPED.items()}
    sites = [json.loads((ROOT / path).read_text()) for path in SURVEYS]
    parts = [tomllib.loads((ROOT / path).read_text()) for path in CATALOGUES]
    surveys = sites + from_schemas(["survey", "brief"], sites)
    catalogues = parts + from_schemas(["catalogue"], parts)
    made["survey_json"] = [json.dumps(survey).encode() for survey in surveys]
    made["survey_toml"] = [as_toml(survey).encode() for survey in surveys]
    made["catalogue_json"] = [json.dumps(parts, default=plain).encode() for parts in catalogues]
    made["catalogue_toml"] = [as_toml(json.loads(seed)).encode() for seed in made["catalogue_json"]]
    made["catalogue_toml"] += [(ROOT / path).read_bytes() for path in CATALOGUES]
    made["catalogue_csv"] = [text.encode() for path in CATALOGUES for text in as_csv(tomllib.loads((ROOT / path).read_text()))]
    made["plan_site"] = [json.dumps(survey).encode() for survey in sites]
    made["exchange_signed"] = exchange_seeds.signed()
    made["exchange_plain"] = exchange_seeds.plain()
    made["store_row"] = exchange_seeds.rows()
    made |= {f"smallest/{name}": [text.encode()] for name, text in SMALLEST_TYPED.items()}
    for name, smallest in (("survey", SMALLEST_SURVEY), ("catalogue", SMALLEST_CATALOGUE)):
        made[f"smallest/{name}_json"] = [json.dumps(smallest).encode()]
        made[f"smallest/{name}_toml"] = [as_toml(smallest).encode()]
    for name, seeds in made.items():
        (folder / name).mkdir(parents=True, exist_ok=True)
        for number, seed in enumerate(seeds):
            (folder / name / f"seed-{number}").write_bytes(seed)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(pathlib.Path(sys.argv[1]))
