#!/usr/bin/env python3
"""Holds the SVG and the PDF of a section against its PNG.

    alike.py --tool PATH [--self-test] [SECTION...]

Each section is drawn in the three formats. SVG and PDF are turned into pixels by
programs that are none of ours (rsvg-convert, pdftocairo) and compared with the
PNG after blurring: a line may lie a fraction of a pixel beside itself, as these
programs place lines and letters, but none may be missing. Words, pages and
metadata are read back too. With --self-test, elements are taken out of an SVG one at
a time before that, to see that each is missed.
"""

import argparse
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

import cairo
import numpy

HERE = pathlib.Path(__file__).resolve().parent
SECTIONS = [*(HERE.parents[1] / "examples" / name for name in ("demo.yaml", "us.yaml", "deep.yaml")),
            HERE / "hostile.yaml"]
DIAGRAMS = SECTIONS[:2] + SECTIONS[3:]  # of these, uplift and exit gradients are drawn too
WORDS = {"net": ("equal head, a drop of", "flow line, "),
         "uplift": ("water pressure on the underside, ", "Uplift U "),
         "exit": ("upward gradient", "Largest exit gradient ")}
WIDTH = 1000  # pixels compared, so that each is a unit of the page
DOTS = 100  # an inch
FINER = 3  # painted finer: what programs make of parts of a pixel differs

# Radius of the blur, and the most that two alike pictures differ by, of 255 levels
# (measured: 1.5 to 1.7, and 3.0 to 5.7). Poppler moves lines and letters by a part of a pixel.
SVG_LIMIT = (2, 2.8)
PDF_LIMIT = (4, 8.0)


def run(*words):
    done = subprocess.run([str(word) for word in words], check=False, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE)
    if done.returncode != 0:
        sys.exit("%s: exit %s\n%s" % (words, done.returncode, done.stderr.decode(errors="replace")))
    return done.stdout.decode()


def pixels(path):
    """The colours of a PNG, FINER by FINER of its pixels averaged."""
    image = cairo.ImageSurface.create_from_png(str(path))
    rows, stride = image.get_height(), image.get_stride() // 4
    data = numpy.frombuffer(image.get_data(), numpy.uint8).reshape(rows, stride, 4)
    rows, columns = rows // FINER, image.get_width() // FINER
    fine = data[:rows * FINER, :columns * FINER, :3].astype(float)
    return fine.reshape(rows, FINER, columns, FINER, 3).mean((1, 3))


def box_mean(image, radius, axis):
    pads = [(0, 0)] * 3
    pads[axis] = (radius + 1, radius)
    sums = numpy.cumsum(numpy.pad(image, pads, mode="edge"), axis=axis)
    span, length = 2 * radius + 1, image.shape[axis]
    return (numpy.take(sums, range(span, span + length), axis)
            - numpy.take(sums, range(length), axis)) / span


def difference(first, second, radius):
    """Largest difference of two pictures once both are blurred, and where it is."""
    if abs(first.shape[0] - second.shape[0]) > 1 or first.shape[1] != second.shape[1]:
        return 255.0, "of size: %s against %s" % (first.shape, second.shape)
    rows = min(first.shape[0], second.shape[0])
    off = first[:rows] - second[:rows]
    for _ in range(3):
        off = box_mean(box_mean(off, radius, 0), radius, 1)
    off = numpy.abs(off).max(2)
    row, column = numpy.unravel_index(off.argmax(), off.shape)
    return float(off.max()), "at %d, %d" % (column, row)


def pixels_of_svg(svg, place):
    run("rsvg-convert", "-w", FINER * WIDTH, svg, "-o", place / "svg.png")
    return pixels(place / "svg.png")


def pixels_of_pdf(pdf, place):
    run("pdftocairo", "-png", "-singlefile", "-r", FINER * DOTS, pdf, place / "pdf")
    return pixels(place / "pdf.png")


def plain(text):
    return " ".join(text.split())


def faults_of_svg(svg):
    """What an SVG must be, apart from looking right; and the words it holds."""
    tree = xml.etree.ElementTree.parse(svg)
    faults = []
    ids = []
    for element in tree.iter():
        kind = element.tag.rsplit("}", 1)[-1]
        if kind not in ("svg", "title", "desc", "defs", "g", "symbol", "path", "use", "clipPath",
                        "rect"):
            faults.append("the SVG holds an element %s" % kind)
        for key, value in element.attrib.items():
            if key.startswith("on") or (key.endswith("href") and not value.startswith("#")):
                faults.append("the SVG has %s=%s" % (key, value))
            if key == "id":
                ids.append(value)
    if len(ids) != len(set(ids)) or not all(re.match(r"us[0-9a-f]{8}-", name) for name in ids):
        faults.append("the ids of the SVG are not its own: %s" % ids[:5])
    root = tree.getroot()
    return faults, root[0].text, plain(root[1].text)


def faults_of_pdf(pdf, title, words):
    faults = []
    told = run("pdfinfo", pdf)
    for line in ("Pages: +1\n", "Page size: +720 x [0-9.]+ pts\n", "Creator: +Undersill ",
                 "Keywords: +Input SHA-256 [0-9a-f]{64}\n", "JavaScript: +no\n",
                 "Title: +" + re.escape(title) + "\n"):
        if not re.search(line, told):
            faults.append("pdfinfo does not say %s" % line.strip())
    if "Date" in told:
        faults.append("the PDF has a date")
    if re.search(r"\bno +(yes|no) +(yes|no) +\d+ +\d+$", run("pdffonts", pdf), re.MULTILINE):
        faults.append("a font is not in the PDF")
    there = run("pdftotext", "-layout", pdf, "-")
    there = plain(there)
    for line in words:
        if line not in there:
            faults.append("the PDF lacks the words: %s" % line)
    return faults


def compare(tool, section, what, place):
    """Faults of the pictures of one kind of one section."""
    png, svg, pdf = (place / (what + "." + ending) for ending in ("png", "svg", "pdf"))
    run(tool, "draw", section, "-q", "--what", what, "-o", png, "--width", FINER * WIDTH)
    run(tool, "draw", section, "-q", "--what", what, "-o", svg)
    run(tool, "draw", section, "-q", "--what", what, "-o", pdf)
    faults, title, words = faults_of_svg(svg)
    for line in (*WORDS[what], "Computed numbers inform"):
        if line not in words:
            faults.append("the SVG lacks the words: %s" % line)
    faults += faults_of_pdf(pdf, title, [title, "level, ", "distance, ", *WORDS[what]])
    truth = pixels(png)
    for name, found, (radius, limit) in (("SVG", pixels_of_svg(svg, place), SVG_LIMIT),
                                         ("PDF", pixels_of_pdf(pdf, place), PDF_LIMIT)):
        off, where = difference(truth, found, radius)
        print("%s, %s: %s differs by %.1f %s" % (section.name, what, name, off, where))
        if off > limit:
            faults.append("the %s of %s differs from the PNG by %.1f %s" % (name, what, off, where))
    return faults


# What is taken out: a word, a flow line, an equipotential, a stroke of the hatch, a
# wall, a soil, water; a curve, an arrow. The last column: whether a PDF without it would
# be told as well.
PLANTS = [
    ("net", "a label", r"<g style=\"fill:[^>]*>\n(?:  <use [^>]*/>\n){8,}</g>\n", True),
    ("net", "a flow line", r"<path style=\"fill:none;stroke-width:1\.4;[^>]*>", True),
    ("net", "an equipotential", r"<path style=\"fill:none;stroke-width:1;[^>]*stroke-dasharray[^>]*>",
     True),
    ("net", "a stroke of the hatch", r"<path style=\"fill:none;stroke-width:0\.8;[^>]*>", False),
    ("net", "a wall", r"<path style=\"fill:none;stroke-width:3\.4;[^>]*>", True),
    ("net", "a soil", r"<path style=\" stroke:none;fill-rule:nonzero;fill:rgb\(89\.5%[^>]*>", True),
    ("net", "water", r"<path style=\" stroke:none;fill-rule:nonzero;fill:rgb\(80%[^>]*>", True),
    ("exit", "the curve of gradients", r"<path style=\"fill:none;stroke-width:2;[^>]*>", True),
    ("uplift", "the arrow of the uplift", r"<path style=\"fill:none;stroke-width:4\.5;[^>]*>", True),
]


def self_test(tool, place):
    faults = []
    whole, truth = {}, {}
    for what in WORDS:
        svg = place / (what + ".svg")
        run(tool, "draw", SECTIONS[0], "-q", "--what", what, "-o", svg)
        whole[what], truth[what] = svg.read_text(), pixels_of_svg(svg, place)
    for what, name, pattern, in_pdf in PLANTS:
        planted = place / "planted.svg"
        text, count = re.subn(pattern, "", whole[what], count=1)
        planted.write_text(text)
        found = pixels_of_svg(planted, place)
        for kind, (radius, limit), wanted in (("SVG", SVG_LIMIT, True),
                                              ("PDF", PDF_LIMIT, in_pdf)):
            off = difference(truth[what], found, radius)[0]
            print("without %s: %s differs by %.1f" % (name, kind, off))
            if count != 1 or (wanted and off <= limit):
                faults.append("self-test: %s %s lacks is not missed (%.1f)" % (name, kind, off))
    return faults


def main():
    parser = argparse.ArgumentParser(description="Compares formats of pictures.")
    parser.add_argument("--tool", required=True, type=pathlib.Path)
    parser.add_argument("--self-test", action="store_true")
    parser.add_argument("sections", nargs="*", type=pathlib.Path, default=SECTIONS)
    options = parser.parse_args()
    tool = options.tool.resolve()
    faults = []
    with tempfile.TemporaryDirectory(prefix="undersill-alike-") as scratch:
        place = pathlib.Path(scratch)
        if options.self_test:
            faults += self_test(tool, place)
        for section in options.sections:
            for what in ["net"] + (["uplift", "exit"] if section in DIAGRAMS else []):
                faults += ["%s: %s" % (section.name, fault)
                           for fault in compare(tool, section, what, place)]
    print("".join("FAILED %s\n" % fault for fault in faults), end="")
    print("%d sections, %d faults" % (len(options.sections), len(faults)))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
