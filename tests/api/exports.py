"""What the shared library shows is what the public headers declare, no more and
no less, under one version node.

Usage: exports.py [--self-test] LIBUNDERSILL.SO INCLUDE-FOLDER
"""

import os
import re
import subprocess
import sys

DECLARED = re.compile(r"^US_API\b[^;]*?\b(\w+)\(", re.MULTILINE)
NODE = "UNDERSILL_0"


def declared(include):
    """Names of the functions that the public headers mark US_API."""
    names = set()
    folder = os.path.join(include, "undersill")
    for header in os.listdir(folder):
        with open(os.path.join(folder, header), encoding="utf-8") as stream:
            text = re.sub(r"/\*.*?\*/", "", stream.read(), flags=re.DOTALL)
        names.update(DECLARED.findall(text))
    return names


def shown(library):
    """Lines of nm about the dynamic symbols that the library defines."""
    listed = subprocess.run(["nm", "--dynamic", "--defined-only", library], check=True,
                            capture_output=True, text=True).stdout
    return listed.splitlines()


def compare(names, lines):
    """Breaches between the declared names and the lines of nm."""
    breaches, found = [], set()
    for line in lines:
        kind, symbol = line.split()[-2:]
        name, _, node = symbol.partition("@")
        if kind == "A":
            if name != NODE:
                breaches.append(f"{name}: a version node other than {NODE}")
            continue
        found.add(name)
        if kind != "T":
            breaches.append(f"{name}: kind {kind}; only functions are shown")
        if node.lstrip("@") != NODE:
            breaches.append(f"{name}: not under {NODE}")
    breaches += [f"{name}: declared US_API, not shown" for name in sorted(names - found)]
    breaches += [f"{name}: shown, not declared US_API" for name in sorted(found - names)]
    return breaches


def prove():
    clean = [f"0 A {NODE}", f"1 T us_a@@{NODE}", f"2 T us_b@@{NODE}"]
    plants = [
        ({"us_a", "us_b", "us_c"}, clean, "us_c: declared"),
        ({"us_a"}, clean, "us_b: shown"),
        ({"us_a", "us_b"}, clean + [f"3 T usi_c@@{NODE}"], "usi_c: shown"),
        ({"us_a", "us_b"}, clean[:2] + ["2 T us_b"], "us_b: not under"),
        ({"us_a", "us_b"}, clean + [f"3 D us_c@@{NODE}"], "us_c: kind D"),
        ({"us_a", "us_b"}, clean + ["0 A OTHER_1"], "OTHER_1: a version node"),
    ]
    if compare({"us_a", "us_b"}, clean):
        sys.exit("self-test: clean library blamed")
    for names, lines, words in plants:
        if not any(words in breach for breach in compare(names, lines)):
            sys.exit(f"self-test: not found: {words}")
    print(f"self-test: {len(plants)} planted breaches found, clean library passed")


def main():
    arguments = [word for word in sys.argv[1:] if word != "--self-test"]
    if len(arguments) != 2:
        sys.exit(__doc__)
    if "--self-test" in sys.argv:
        prove()
    names = declared(arguments[1])
    breaches = compare(names, shown(arguments[0]))
    print(*breaches, f"{len(names)} functions declared, {len(breaches)} breaches", sep="\n")
    sys.exit(1 if breaches or not names else 0)


if __name__ == "__main__":
    main()
