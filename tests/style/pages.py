"""The pages hold together: every relative link of a Markdown page leads to a
file, and every command of the two that README names can be run."""

import os
import re

import tree

LINK = re.compile(r"!?\[[^\]\n]*\]\(([^)\s]+)\)")
COMMANDS = ("examples/quickstart.sh", "tests/run.sh")


def check(root):
    pages, breaches = tree.files(root, ".md"), []
    for page in pages:
        text = tree.read(root, page)
        for match in LINK.finditer(text):
            target = match.group(1).split("#")[0]
            if not target or re.match(r"[a-z]+:", target):
                continue
            if not os.path.exists(os.path.join(root, os.path.dirname(page), target)):
                breaches.append(f"{page}:{tree.line_of(text, match.start())}: {target}: no such file")
    readme = tree.read(root, "README.md") if "README.md" in pages else ""
    for command in COMMANDS:
        if command not in readme:
            breaches.append(f"README.md does not name {command}")
        if not os.access(os.path.join(root, command), os.X_OK):
            breaches.append(f"{command} cannot be run")
    return len(pages), breaches


README = "`examples/quickstart.sh` and `tests/run.sh`; [docs](docs/a.md), [web](https://a.b/c)\n"
PLANTS = [
    ({"docs/a.md": "[gone](b.md)\n"}, "docs/a.md:1: b.md: no such file"),
    ({"README.md": README + "![net](docs/net.png)\n"}, "docs/net.png: no such file"),
    ({"README.md": "`tests/run.sh`\n"}, "does not name examples/quickstart.sh"),
    ({"tests/run.sh": None}, "tests/run.sh cannot be run"),
]
CLEAN = {"README.md": README, "docs/a.md": "[up](../README.md#top)\n",
         "examples/quickstart.sh": "", "tests/run.sh": ""}

if __name__ == "__main__":
    tree.run(check, CLEAN, PLANTS)
