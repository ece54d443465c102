"""Holds the job files of this repository against the schema of `dripleg keys`, with the
packages `jsonschema` and Python's own `tomllib`: those that can be read have to pass, and
those with a slip in a word or a kind of value have to fail.

    python tests/schema_check.py target/release/dripleg
"""

import json
import pathlib
import subprocess
import sys
import tomllib

import jsonschema

ROOT = pathlib.Path(__file__).parent.parent
# What a schema can see of a slip: a word that there is none of, a key that is missing, a
# number for a text.
SLIPS = {
    'title ': 'titel ',
    '"feet"': '"foot"',
    '"cross"': '"criss"',
    '"up 7-6"': '"upp 7-6"',
    'height = "11-0"': "height = 11.0",
    'bench = "10-0"': "bench = 10",
    '"north wall"': '"north"',
}


def main(dripleg):
    schema = json.loads(subprocess.check_output([dripleg, "keys", "--format", "schema"]))
    jsonschema.Draft7Validator.check_schema(schema)
    check = jsonschema.Draft7Validator(schema)
    read = 0
    for path in sorted(ROOT.glob("catalogs-demo/*.toml")) + sorted(ROOT.glob("tests/**/*.toml")):
        text = path.read_text(encoding="utf-8")
        if "[[leg]]" not in text:
            continue
        done = subprocess.run([dripleg, "check", str(path)], capture_output=True)
        if done.returncode != 0:
            continue
        job = tomllib.loads(text)
        errors = [error.message for error in check.iter_errors(job)]
        assert not errors, (path, errors)
        read += 1
    assert read >= 30, read
    demo = (ROOT / "catalogs-demo/millrace.toml").read_text(encoding="utf-8")
    for good, slip in SLIPS.items():
        assert good in demo, good
        job = tomllib.loads(demo.replace(good, slip, 1))
        assert list(check.iter_errors(job)), slip
    print(f"{read} job files pass the schema, {len(SLIPS)} slips do not")


if __name__ == "__main__":
    main(sys.argv[1])
