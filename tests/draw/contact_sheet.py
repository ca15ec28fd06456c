#!/usr/bin/env python3
"""Draws the sections of data/pictures/ for a person to look at.

    contact_sheet.py --tool PATH --to FOLDER

Each is drawn as a net and as diagrams of exit gradients and uplift, at 900 and at 1600
pixels, and as a section; FOLDER/index.html shows them all. Look at every one, at full
size, after any change to lib/draw/: what a test can measure of a picture is measured in
unit/test_labels.c and unit/test_diagram_labels.c, the rest is for eyes.
"""

import argparse
import html
import pathlib
import subprocess
import sys

SECTIONS = pathlib.Path(__file__).resolve().parents[1] / "data" / "pictures"
PICTURES = (("net", "net", 900), ("net-large", "net", 1600), ("section", "section", 900),
            ("exit", "exit", 900), ("exit-large", "exit", 1600),
            ("uplift", "uplift", 900), ("uplift-large", "uplift", 1600))
EXPECTED = 20


def draw(tool, section, folder):
    """Draws one section; returns the names of its pictures."""
    names = []
    has_structure = "\nstructure:" in section.read_text(encoding="utf-8")
    for ending, what, width in PICTURES:
        if what == "uplift" and not has_structure:
            continue
        name = f"{section.stem}-{ending}.png"
        subprocess.run([tool, "draw", section, "--what", what, "--width", str(width), "--quiet",
                        "-o", folder / name], check=True, timeout=60)
        names.append(name)
    return names


def page(rows):
    lines = ["<!DOCTYPE html>", '<html lang="en"><meta charset="utf-8">',
             "<title>Contact sheet</title>", "<h1>Contact sheet</h1>"]
    for stem, names in rows:
        lines.append(f"<h2>{html.escape(stem)}</h2>")
        small = [name for name in names if "large" not in name]
        for name in small:
            large = name.replace(".png", "-large.png")
            link = large if large in names else f"{stem}-net-large.png"
            lines.append(f'<a href="{html.escape(link)}"><img src="{html.escape(name)}" alt=""></a>')
    return "\n".join(lines + ["</html>", ""])


def main():
    parser = argparse.ArgumentParser(description="draws the sections of data/pictures/")
    parser.add_argument("--tool", required=True)
    parser.add_argument("--to", type=pathlib.Path, required=True)
    options = parser.parse_args()
    sections = sorted(SECTIONS.glob("*.yaml"))
    if len(sections) != EXPECTED:
        sys.exit(f"{len(sections)} sections where {EXPECTED} were expected")
    options.to.mkdir(parents=True, exist_ok=True)
    rows = [(section.stem, draw(options.tool, section, options.to)) for section in sections]
    (options.to / "index.html").write_text(page(rows), encoding="utf-8")
    print(f"{sum(len(names) for _, names in rows)} pictures in {options.to}/index.html")


if __name__ == "__main__":
    main()
