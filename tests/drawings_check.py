"""Drawings as other programs read them.

Draws every sheet of the jobs that are named, and holds that each SVG is XML with
ids of its own, that two other readers find nothing to mend in the PDF, and that a
third one reads every outlet's name in it.

    python3 tests/drawings_check.py target/release/dripleg JOB.toml ...
"""

import pathlib
import subprocess
import sys
import tempfile
import tomllib
import xml.etree.ElementTree as tree

SVG = "{http://www.w3.org/2000/svg}"


def run(*words):
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"{words}: {done.stdout}{done.stderr}"
    return done


def ids(root):
    return [node.attrib["id"] for node in root.iter() if "id" in node.attrib]


def check_svg(path):
    root = tree.parse(path).getroot()
    assert root.tag == SVG + "svg", path
    across, down = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert [across, down] == [float(one) for one in root.attrib["viewBox"].split()[2:]], path
    assert root.find(SVG + "title").text and root.find(SVG + "desc").text, path
    labels = root.attrib["aria-labelledby"].split()
    assert set(labels) <= set(ids(root)), path
    return ids(root)


def check_pdf(path, names):
    checked = run("qpdf", "--check", str(path))
    assert "WARNING" not in checked.stdout + checked.stderr, checked.stdout + checked.stderr
    cleaned = run("mutool", "clean", str(path), str(path.with_name(f"clean-{path.name}")))
    assert not cleaned.stderr, f"{path}: {cleaned.stderr}"
    text = run("pdftotext", str(path), "-").stdout
    lacking = [name for name in names if name not in text]
    assert not lacking, f"{path} does not name {lacking}"


def check(dripleg, job, folder):
    own = folder / job.stem
    run(dripleg, "draw", str(job), "--out", f"{own}/")
    sheets = sorted(own.glob("*.svg"))
    found = [one for sheet in sheets for one in check_svg(sheet)]
    assert sheets and len(found) == len(set(found)), f"{job}: an id stands twice"
    names = tomllib.loads(job.read_text())["outlet"]
    for paper in ("a4", "letter"):
        out = folder / f"{job.stem}-{paper}.pdf"
        run(dripleg, "draw", str(job), "--paper", paper, "--out", str(out))
        check_pdf(out, names)
    print(f"{job}: {len(sheets)} sheets, {len(names)} outlets")


def main():
    dripleg, *jobs = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        for job in jobs:
            check(dripleg, pathlib.Path(job), pathlib.Path(folder))


if __name__ == "__main__":
    main()
