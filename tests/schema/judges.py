"""Two validators that have nothing in common, and ways to break a sample."""

import copy
import json
from pathlib import Path

import jsonschema
import jsonschema_rs

FOLDER = Path(__file__).parent.parent.parent / "schema"


class Judges:
    """Both have to say the same of every sample."""

    def __init__(self, name):
        schema = json.loads((FOLDER / f"{name}.schema.json").read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        self.first = jsonschema.Draft202012Validator(schema)
        self.second = jsonschema_rs.Draft202012Validator(schema)

    def accept(self, sample):
        said = [f"{list(e.absolute_path)}: {e.message}" for e in self.first.iter_errors(sample)]
        assert self.second.is_valid(sample) is (not said), f"the judges differ: {said}"
        return not said

    def kept(self, samples, every=10):
        """What was done to those of the broken samples that a judge accepts; the slow one sees some of them."""
        return [
            what
            for n, (what, wrong) in enumerate(samples)
            if self.second.is_valid(wrong) or (n % every == 0 and self.first.is_valid(wrong))
        ]


def objects(value, free=()):
    """The way to one object of each shape; those whose keys are names of things are in `free`."""
    seen, found = set(), []

    def walk(part, way):
        if isinstance(part, dict):
            shape = (*[k for k in way if isinstance(k, str)][-1:], *sorted(part), part.get("kind"))
            if (way[-1:] or ("",))[0] not in free and shape not in seen:
                seen.add(shape)
                found.append(way)
            for key, each in part.items():
                walk(each, (*way, key))
        elif isinstance(part, list):
            for n, each in enumerate(part):
                walk(each, (*way, n))

    walk(value, ())
    return found


def at(value, way):
    for key in way:
        value = value[key]
    return value


def broken(value, free=()):
    """Samples with one key too many, one too few, or one of a wrong type; each with what was done."""
    for way in objects(value, free):
        for key in ("unheard-of", *at(value, way)):
            sample = copy.deepcopy(value)
            part = at(sample, way)
            if key == "unheard-of":
                part[key] = 1
                yield f"{way} with {key}", sample
                continue
            del part[key]
            yield f"{way} without {key}", sample
            part[key] = {"not": "this"} if not isinstance(at(value, (*way, key)), dict) else 7
            yield f"{way} with another {key}", sample
