#!/usr/bin/env python3
"""Names that mean something to a program that reads the results: read back with
other people's readers, each comes out as it went in, and none does anything.

    names.py --tool PROGRAM
"""

import argparse
import csv
import io
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import unicodedata
import xml.etree.ElementTree as xml

NAMES = {
    "formula": "=HYPERLINK(\"http://example.invalid\",\"x\")",
    "plus": "+1+cmd|' /C calc'!A0",
    "minus": "-2+3",
    "at": "@SUM(A1:A9)",
    "markup": "<b>&amp;</b> <script>alert(1)</script> & < > \" '",
    "pango": "<span size='99999999'>big</span>",
    "entity": "]]> &lt;!ENTITY x SYSTEM 'file:///etc/passwd'>",
    "right to left": "\u05d0\u05d1\u05d2 12 (a)",
    "marks": "e" + "\u0301\u0302\u0303" * 8,
    "120 bytes": "\u6c34" * 40,
    "commas": "a,b;c\u00a0d",
    "percent": "%s%n%p \\n {0} $HOME `id`",
}
# What turns the direction of text, or ends its line, is refused when it is read.
REFUSED = ["\u202egnp.exe", "\u2066x", "a\u2028b", "a\u0085b", "a\x1b[31mb", "a\x7fb", "\ufeffx"]


def section_of(name):
    quoted = json.dumps(name)  # which YAML reads as well
    return ("title: %s\nbed: {upstream: 11, downstream: 10}\nbase: 6\n"
            "walls: [{name: %s, x: 0, top: 12, tip: 8}]\n"
            "soils: [{name: %s, kh: 1e-4, unit_weight: 20}]\n"
            "piezometers: [{name: %s, at: [3, 8]}]\n"
            "water: [{name: %s, upstream: 12, downstream: 10.5}]\n" % ((quoted,) * 5))


def run(tool, folder, name, *arguments):
    (folder / "in.yaml").write_text(section_of(name), encoding="utf-8")
    return subprocess.run([tool, arguments[0], "in.yaml", *arguments[1:]], cwd=folder,
                          env={**os.environ, "LC_ALL": "C"}, capture_output=True, timeout=60,
                          check=False)


def text_is_calm(text):
    return not any(unicodedata.category(sign) in ("Cc", "Zl", "Zp")
                   or unicodedata.bidirectional(sign) in ("LRO", "RLO", "LRE", "RLE", "PDF",
                                                          "LRI", "RLI", "FSI", "PDI")
                   for sign in text if sign != "\n")


def faults_of(tool, folder, name):
    solve = ("solve", "--accuracy", "20%", "--format")
    text = run(tool, folder, name, *solve, "text").stdout.decode()
    if name not in text.replace("\n", " ") and name not in text or not text_is_calm(text):
        yield "text"
    tables = run(tool, folder, name, *solve, "csv").stdout.decode()
    rows = list(csv.reader(io.StringIO(tables, newline="")))
    shown = "'" + name if name[0] in "=+-@" else name
    if any(len(row) != 7 for row in rows) or not {shown} & {row[2] for row in rows}:
        yield "CSV: cells"
    numbers = [cell for row in rows[1:] for cell in row[3:5] if cell]
    words = [cell for row in rows for at, cell in enumerate(row) if at not in (3, 4)]
    if any(word[:1] in tuple("=+-@\t") and word for word in words):
        yield "CSV: a formula"
    if not all(float(number) == float(number) for number in numbers):
        yield "CSV: numbers"
    tree = json.loads(run(tool, folder, name, *solve, "json").stdout)
    case = tree["water"][0]
    if [tree["section"]["title"], case["name"], case["walls"][0]["name"],
            case["piezometers"][0]["name"]] != [name] * 4:
        yield "JSON"
    drawn = run(tool, folder, name, "draw", "--what", "section", "--format", "svg", "-o", "-")
    root = xml.fromstring(drawn.stdout)
    kinds = {element.tag.rpartition("}")[2] for element in root.iter()}
    if kinds & {"script", "image", "a", "foreignObject", "b", "span"}:
        yield "SVG: %s" % kinds
    if name not in [element.text for element in root.iter() if element.tag.endswith("title")]:
        yield "SVG: title"
    done = run(tool, folder, name, "draw", "--what", "section", "-o", "out.png")
    if done.returncode != 0 or name.encode() not in (folder / "out.png").read_bytes():
        yield "PNG: title %s" % done.stderr
    if run(tool, folder, name, "check").returncode != 0:
        yield "check"


def main():
    parser = argparse.ArgumentParser(description="Tries hostile names.")
    parser.add_argument("--tool", required=True, type=pathlib.Path)
    tool = parser.parse_args().tool.resolve()
    failed = 0
    with tempfile.TemporaryDirectory(prefix="undersill-names-") as place:
        folder = pathlib.Path(place)
        for label, name in NAMES.items():
            faults = list(faults_of(tool, folder, name))
            failed += bool(faults)
            print("%s %s %s" % ("FAILED" if faults else "passed", label, faults or ""))
        for name in REFUSED:
            done = run(tool, folder, name, "check")
            said = done.stderr.decode(errors="replace")
            refused = done.returncode == 2 and not done.stdout and text_is_calm(said)
            failed += not refused
            print("%s refused %s" % ("passed" if refused else "FAILED", ascii(name)))
    print("%d failed" % failed)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
