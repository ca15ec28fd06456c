#!/usr/bin/env python3
"""Reads docs/worked-example.md and works it out again.

Blocks that begin ```yaml section=NAME are section files; NAME demo stands for the demo of
examples/. Lines of blocks that begin ```text calc=NAME are

    name = expression = number unit  [place in what solve prints]

Each expression, worked out with the names above it, has to give the number to the digits printed;
and so has `solve`, where a place in its JSON stands behind: items of lists by number, or by their
name: water[low_flow].checks[uplift].value. A place alone takes the number from there:

    name = number unit  [place]

usage: worked.py UNDERSILL PAGE DEMO [--self-test]
"""
import ast
import json
import math
import operator
import re
import subprocess
import sys

LINE = re.compile(r"^(?P<name>[A-Za-z_]\w*) = (?:(?P<sum>.+) = )?(?P<number>-?[\d.]+|not checked|none|pass|fail)"
                  r"(?: [^\[\]=]*?)?(?:\s+\[(?P<place>[^ ].*)\])?$")
WORDS = {"not checked", "none", "pass", "fail"}
OPERATORS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul,
             ast.Div: operator.truediv, ast.Pow: operator.pow, ast.USub: operator.neg}
FUNCTIONS = {"sqrt": math.sqrt, "max": max, "min": min,
             "sin": lambda a: math.sin(math.radians(a)), "cos": lambda a: math.cos(math.radians(a)),
             "tan": lambda a: math.tan(math.radians(a)), "atan": lambda t: math.degrees(math.atan(t))}


def value_of(node, names):
    """A sum with named numbers; nothing else is let through."""
    if isinstance(node, ast.Expression):
        return value_of(node.body, names)
    if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
        return node.value
    if isinstance(node, ast.Name):
        return names[node.id]
    if isinstance(node, ast.BinOp):
        return OPERATORS[type(node.op)](value_of(node.left, names), value_of(node.right, names))
    if isinstance(node, ast.UnaryOp):
        return OPERATORS[type(node.op)](value_of(node.operand, names))
    if isinstance(node, ast.Call):
        return FUNCTIONS[node.func.id](*(value_of(a, names) for a in node.args))
    raise ValueError(ast.dump(node))


def step_of(number):
    """One unit of the last digit printed."""
    return 10.0 ** -len(number.partition(".")[2])


def agrees(value, number):
    return abs(value - float(number)) <= 0.5000001 * step_of(number)


def item_of(found, key):
    if key.isdigit():
        return found[int(key)]
    return next(item for item in found if item.get("name") == key)


def place_in(solved, place):
    found = solved
    for name, key in re.findall(r"(\w+)|\[([^\]]+)\]", place):
        found = found[name] if name else item_of(found, key)
    return found


def word_of(check):
    """What became of a check of JSON, in a word."""
    if not check["checked"]:
        return "not checked"
    return "none" if check["pass"] is None else "pass" if check["pass"] else "fail"


def fault_of(line, names, solved):
    """What is wrong with a line, or None; takes its name in."""
    match = LINE.match(line)
    if not match:
        return "is no line of a sum"
    name, number, place = match["name"], match["number"], match["place"]
    if number in WORDS:
        found = word_of(place_in(solved, place))
        return None if found == number else f"solve says {found}"
    if match["sum"]:
        try:
            value = value_of(ast.parse(match["sum"], mode="eval"), names)
        except KeyError as missing:
            return f"has no {missing} to go by"
        if not agrees(value, number):
            return f"the sum is {value:.9g}"
    elif not place:
        return "has neither a sum nor a place"
    if place:
        found = place_in(solved, place)
        if found is None or not agrees(found, number):
            return f"solve prints {found}"
    names[name] = float(number)
    return None


def blocks_of(page):
    return re.findall(r"^```(\w+) (\w+)=(\w+)\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)


def solve(tool, text):
    done = subprocess.run([tool, "solve", "-", "--format", "json"], input=text, capture_output=True,
                          text=True, check=False)
    if done.returncode not in (0, 1):
        sys.exit(f"exit status {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)


def faults_of(page, solved):
    """Every line that does not hold, and how many there are in all."""
    faults, count, names = [], 0, {}
    for _, kind, name, body in blocks_of(page):
        for line in body.splitlines() if kind == "calc" else []:
            if line.strip():
                fault = fault_of(line.strip(), names.setdefault(name, {}), solved[name])
                faults += [f"{line.strip()}: {fault}"] if fault else []
                count += 1
    return faults, count


def main():
    tool, page, demo = sys.argv[1], open(sys.argv[2], encoding="utf-8").read(), sys.argv[3]
    sections = {name: body for _, kind, name, body in blocks_of(page) if kind == "section"}
    sections["demo"] = open(demo, encoding="utf-8").read()
    solved = {name: solve(tool, text) for name, text in sections.items()}
    faults, count = faults_of(page, solved)
    if "--self-test" in sys.argv:
        planted = re.sub(r"(= -?\d+\.)(\d)", lambda m: m[1] + str((int(m[2]) + 5) % 10), page)
        if len(faults_of(planted, solved)[0]) < count // 2:
            sys.exit("planted faults are not found")
    if faults or count < 30:
        sys.exit("\n".join(faults) or f"{count} lines are too few")
    print(f"{count} lines hold")


if __name__ == "__main__":
    main()
