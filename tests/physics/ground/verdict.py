"""How results are held against references, here and for the edges: counted, told, and an exit status."""
import sys

# Half of the ninth digit, the last that is printed.
PRINTED = 5e-9


class Verdict:
    def __init__(self, name):
        self.name, self.wrong, self.widest = name, [], {}

    def near(self, what, value, expected, limit):
        if value is None:
            self.wrong.append(f"{what}: absent, expected {expected:.9g}")
            return
        limit += PRINTED * abs(value)
        off = abs(value - expected)
        kind = what.split()[0]
        self.widest[kind] = max(self.widest.get(kind, 0.0), off / limit)
        if not off <= limit:
            self.wrong.append(f"{what}: {value:.9g}, expected {expected:.9g} +/- {limit:.1e}")

    def true(self, what, holds):
        if not holds:
            self.wrong.append(what)

    def tell(self, unknowns):
        """Prints how near the limits it came and what is wrong; true where something is."""
        shares = ", ".join(f"{kind} {share:.2f}" for kind, share in self.widest.items())
        print(f"{self.name}: {unknowns} unknowns; off / allowed: {shares}", flush=True)
        for line in self.wrong:
            print(f"  WRONG {line}")
        return bool(self.wrong)


class Ledger:
    def __init__(self):
        self.done = self.wrong = 0

    def near(self, what, value, expected, limit):
        self.done += 1
        if not abs(value - expected) <= limit:
            self.wrong += 1
            print(f"WRONG {what}: {value:.12g}, expected {expected:.12g} +/- {limit:.1e}")

    def true(self, what, holds):
        self.near(what, float(holds), 1.0, 0.0)

    def close(self):
        print(f"{self.done} comparisons, {self.wrong} wrong")
        sys.exit(1 if self.wrong else 0)
