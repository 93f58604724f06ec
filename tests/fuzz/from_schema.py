"""Documents made from a JSON Schema, every field in each, until every field and every word of the schema has been met.

All ids are the same and every list has one entry, so that references find what they name. Some documents are refused all
the same, for what holds between fields; a refused one still leads the search to the reader of each of its fields.
"""

import random

TEXTS = {
    "id": "a",
    "date": "2026-01-15",
    "moment": "2026-01-15T10:00:00Z",
    "currency": "EUR",
    "ingress": "IP66/IP67",
    "length": "2.45 m",
    "money": "12.50",
}

# More tries than any schema here takes.
MOST = 200


def field_names(schema):
    """The name of every field in a schema."""
    if isinstance(schema, list):
        return set().union(*map(field_names, schema), set())
    if not isinstance(schema, dict):
        return set()
    own = set(schema["properties"]) if isinstance(schema.get("properties"), dict) else set()
    return own.union(*map(field_names, schema.values()))


def words(schema):
    """Every word that a schema accepts in some field: one kind of several."""
    if isinstance(schema, list):
        return set().union(*map(words, schema), set())
    if not isinstance(schema, dict):
        return set()
    own = {word for word in [schema.get("const"), *schema.get("enum", [])] if isinstance(word, str)}
    return own.union(*map(words, schema.values()))


def met(document):
    """The names of all fields in a document, and all of its texts."""
    if isinstance(document, dict):
        parts = [met(value) for value in document.values()]
        names = set(document)
    elif isinstance(document, list):
        parts, names = [met(value) for value in document], set()
    else:
        return set(), {document} if isinstance(document, str) else set()
    return names.union(*(part[0] for part in parts)), set().union(*(part[1] for part in parts))


class Maker:
    """Makes documents from one schema, the same ones at every run."""

    def __init__(self, schema):
        self.defs = schema.get("$defs", {})
        self.schema = schema
        self.dice = random.Random(1)

    def documents(self):
        """Documents until everything has been met."""
        names, texts = field_names(self.schema), words(self.schema)
        made = []
        for _ in range(MOST):
            if not names and not texts:
                break
            document = self.value(self.schema)
            met_names, met_texts = met(document)
            if names & met_names or texts & met_texts:
                made.append(document)
            names, texts = names - met_names, texts - met_texts
        return made

    def referred(self, schema):
        return self.defs[schema["$ref"].removeprefix("#/$defs/")]

    def value(self, schema):
        if "$ref" in schema and "properties" not in schema:
            return self.value(self.referred(schema))
        if "anyOf" in schema:
            return self.value(self.dice.choice(schema["anyOf"]))
        if "const" in schema:
            return schema["const"]
        if "enum" in schema:
            return self.dice.choice(schema["enum"])
        if "properties" in schema or "oneOf" in schema:
            return self.table(schema)
        if "items" in schema:
            return [self.value(schema["items"]) for _ in range(schema.get("minItems", 1))]
        return self.single(schema)

    def table(self, schema):
        fields = {}
        for part in ([self.dice.choice(schema["oneOf"])] if "oneOf" in schema else []) + ([self.referred(schema)] if "$ref" in schema else []):
            made = self.value(part)
            if not isinstance(made, dict):
                return made
            fields |= made
        return fields | {name: self.value(field) for name, field in schema.get("properties", {}).items()}

    def single(self, schema):
        kinds = schema.get("type", "string")
        kinds = [kinds] if isinstance(kinds, str) else [kind for kind in kinds if kind != "null"]
        if "number" in kinds or "integer" in kinds:
            usual = 2 if "integer" in kinds else 100
            least = schema.get("minimum", schema.get("exclusiveMinimum", 0) + 1)
            value = max(least, min(schema.get("maximum", usual), usual))
            return int(value) if "integer" in kinds else value
        if "boolean" in kinds:
            return True
        return TEXTS.get(schema.get("format"), "a")
