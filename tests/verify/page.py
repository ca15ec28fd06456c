"""docs/verification.md: written from the command's JSON, and held against it."""

HEAD = """# Verification

`undersill verify` solves {sections} sections whose answers are known from elsewhere, the ordinary way
from text to results, and compares {values} values:

- *exact ones*: closed forms, and sections made for it. Each expected value is worked out a second
  time by the tests, by conformal mapping or by the modes of the layers, which have no grid and share
  nothing with the solver;
- *published ones*: worked examples and tables of textbooks as they are printed, with how closely
  they can be read. Where ours differs by more than rounding, the reason stands below.

A value passes when it differs from the expected one by no more than is allowed: its own stated error
at default accuracy (1 %), and the tolerance of the source where it has one. An exact flow has to lie
within its bounds as well. Where theory gives no finite value (`none`), none may be printed. The
exit status is 1 when one misses, so anybody can run the proof again; with `--format json` the text of
every section comes with it.

This page is written from what the command says by `tests/verify/check.py --write`; a test
fails when they differ. Numbers are in SI, forces in kN per metre.

**{verdict}**

![The largest true errors over eight exact sections, against unknowns](images/verification.png)

How the errors of eight of the exact sections fall as their grids get finer (`undersill verify --chart FILE`):
the exit gradient as it is read off one grid, and extrapolated over two; flow by its worse bound, and by
the mean of both.
"""
NAMES = {"flow": "flow", "exit_gradient": "exit gradient", "exit_gradient.mean": "mean exit gradient",
         "uplift.force": "uplift", "wall.upstream_face_top": "upstream face of {}",
         "wall.tip": "tip of {}", "wall.downstream_face_top": "downstream face of {}",
         "piezometer.head": "{}", "check.piping": "piping factor"}
SHOWN, STEADY = 7, 3e-6  # digits of a computed value, and what of it a machine may change
COMPUTED, DIFFERENCE, ALLOWED = 2, 3, 4  # columns


def number(value, digits):
    return "none" if value is None else f"{value:.{digits}g}"


def cells_of(row):
    name = NAMES[row["quantity"]].format(row["place"]).replace("_", " ")
    expected, computed = row["expected"], row["computed"]
    difference = allowed = None
    if expected is not None and computed is not None:
        difference = row["difference"]
        if abs(difference) < STEADY * max(abs(expected), row["error"]):
            difference = 0.0
        allowed = row["error"] + row["tolerance"]
    return [f"{name}, {row['unit']}" if row["unit"] else name, number(expected, SHOWN),
            number(computed, SHOWN - 1), number(difference, 2), number(allowed, 2),
            "pass" if row["pass"] else "**miss**"]


def write(cases, sections):
    missed = sum(not row["pass"] for row in cases)
    verdict = f"{missed} of {len(cases)} values miss." if missed else f"All {len(cases)} values pass."
    lines = HEAD.format(sections=len(sections), values=len(cases), verdict=verdict).splitlines()
    last = None
    for row in cases:
        if row["name"] != last:
            last = row["name"]
            own = [each for each in cases if each["name"] == last]
            lines += ["", f"## {last}", "", sections[last]["title"].rstrip(".") + ".", "",
                      f"Source: {row['source'].rstrip('.')}.", ""]
            if not all(each["converged"] for each in own):
                lines += ["Not converged: the accuracy was not reached.", ""]
            reasons = []
            for each in own:
                if each["why"] and each["why"] not in reasons:
                    reasons.append(each["why"])
            for reason in reasons:
                lines += [reason, ""]
            lines += ["| value | expected | computed | difference | allowed | |",
                      "| --- | --- | --- | --- | --- | --- |"]
        lines.append("| " + " | ".join(cells_of(row)) + " |")
    return "\n".join(lines) + "\n"


def agree(column, old, new, scale):
    """Whether two cells say the same but for what a machine may change."""
    if old == new:
        return True
    if column < COMPUTED or column > ALLOWED:
        return False
    room = STEADY * scale if column == COMPUTED else STEADY * scale + 0.1 * abs(float(new))
    return abs(float(old) - float(new)) <= room


def same(old, new):
    if old == new:
        return True
    before, after = old.split(" | "), new.split(" | ")
    if len(before) != len(after) or len(after) != 6:
        return False
    try:
        scale = max(abs(float(after[1])), abs(float(after[2])))
        return all(agree(i, a, b, scale) for i, (a, b) in enumerate(zip(before, after)))
    except ValueError:  # no row of numbers
        return False


def differences(text, cases, sections):
    """What the page says otherwise than the command, at most a few lines of it."""
    old, new = text.splitlines(), write(cases, sections).splitlines()
    wrong = [f"docs/verification.md:{i + 1}: has '{a}', the command gives '{b}'"
             for i, (a, b) in enumerate(zip(old, new)) if not same(a, b)]
    if len(old) != len(new):
        wrong.append(f"docs/verification.md has {len(old)} lines, the command makes {len(new)}")
    if wrong:
        wrong = wrong[:10] + ["write the page anew: check.py --tool PATH --page FILE --write"]
    return wrong


def self_test(text, cases, sections):
    """Plants that `differences` has to see, and one that it has to let pass."""
    def planted(key, value, at=0):
        return [dict(row, **{key: value}) if i == at else row for i, row in enumerate(cases)]

    first = cases[0]
    plants = [planted("expected", first["expected"] * 1.00001), planted("source", "hearsay"),
              planted("computed", first["computed"] * 1.0001), planted("pass", not first["pass"]),
              planted("why", "because"), cases[1:]]
    wrong = [f"plant {i} was not seen" for i, plant in enumerate(plants)
             if not differences(text, plant, sections)]
    if differences(text, planted("computed", first["computed"] * (1.0 + 1e-7)), sections):
        wrong.append("a last digit was taken for a difference")
    return wrong
