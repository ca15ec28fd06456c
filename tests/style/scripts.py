"""shellcheck finds nothing in the shell scripts."""

import subprocess

import tree


def check(root):
    paths = [path for path in tree.files(root) if path.endswith((".sh", ".bash")) or path == ".ci/run"]
    if not paths:
        return 0, []
    breaches = []
    # The scripts of a command case are handed to sh and name no shell themselves.
    of_cases = [path for path in paths if path.startswith("tests/cli/")]
    for shell, group in (("bash", sorted(set(paths) - set(of_cases))), ("sh", of_cases)):
        if group:
            done = subprocess.run(["shellcheck", "--format=gcc", f"--shell={shell}", *group],
                                  cwd=root, capture_output=True, text=True, check=False)
            breaches += done.stdout.splitlines() if done.returncode else []
    return len(paths), breaches


CLEAN = {"tests/run.sh": "#!/usr/bin/env bash\nset -euo pipefail\ncd \"$1\"\n"}
PLANTS = [
    ({"tests/cli/bad/a/make.sh": "cat $a > b\n"}, "make.sh:1"),
    ({"tests/run.sh": "#!/usr/bin/env bash\nset -e\nrm -r $1\n"}, "run.sh:3"),
    ({".ci/run": "#!/usr/bin/env bash\nif true; then\n"}, ".ci/run:"),
]

if __name__ == "__main__":
    tree.run(check, CLEAN, PLANTS)
