"""shellcheck finds nothing in the shell scripts."""

import subprocess

import tree


def check(root):
    paths = [path for path in tree.files(root) if path.endswith(".sh") or path == ".ci/run"]
    if not paths:
        return 0, []
    done = subprocess.run(["shellcheck", "--format=gcc", *paths], cwd=root, capture_output=True,
                          text=True, check=False)
    return len(paths), done.stdout.splitlines() if done.returncode else []


CLEAN = {"tests/run.sh": "#!/usr/bin/env bash\nset -euo pipefail\ncd \"$1\"\n"}
PLANTS = [
    ({"tests/run.sh": "#!/usr/bin/env bash\nset -e\nrm -r $1\n"}, "run.sh:3"),
    ({".ci/run": "#!/usr/bin/env bash\nif true; then\n"}, ".ci/run:"),
]

if __name__ == "__main__":
    tree.run(check, CLEAN, PLANTS)
