"""The include graph: data flows one way through the folders of lib/, the tool
knows public headers only, nothing goes in circles, and each foreign library is
known to one folder."""

import posixpath
import re

import tree

# A folder includes from itself and from folders before it.
ORDER = ["base", "model", "input", "grid", "solve", "quantity", "wall", "study", "output", "draw",
         "about", "verify"]

# Headers of foreign libraries, and the only folders that may include them.
OWNERS = {
    r"(cholmod|lapacke?|cblas|omp|colamd|amd|SuiteSparse_config)\.h": ("lib/solve",),
    r"yaml\.h": ("lib/input",),
    r"jansson\.h": ("lib/output", "lib/verify"),
    r"(cairo|pango|png|fontconfig|glib).*\.h": ("lib/draw",),
    r"argp\.h|getopt\.h": ("cli",),
}
INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*([<"])([^>"\n]+)[>"]', re.MULTILINE)


def without_comments(text):
    return re.sub(r"/\*.*?\*/", lambda m: re.sub(r"[^\n]", " ", m.group()), text, flags=re.DOTALL)


def resolve(path, name, known):
    """The file of the tree that `#include "name"` in `path` means, or None."""
    for base in (posixpath.dirname(path), "lib", "include"):
        candidate = posixpath.normpath(posixpath.join(base, name))
        if candidate in known:
            return candidate
    return None


def breach_of(path, target):
    """What is wrong with `path` including the file `target` of the tree."""
    source, owner = path.split("/"), target.split("/")
    if owner[0] == "include":
        return None
    if source[0] == "include":
        return "a public header includes an internal one"
    if source[0] == "cli":
        return None if owner[0] == "cli" else "the tool may include public headers only"
    if owner[0] != "lib" or len(owner) < 3 or len(source) < 3:
        return "the library includes from lib/FOLDER/ and include/ only"
    for folder in (source[1], owner[1]):
        if folder not in ORDER:
            return f"lib/{folder}/ has no place in the order of folders"
    if ORDER.index(owner[1]) > ORDER.index(source[1]):
        return f"{source[1]}/ comes before {owner[1]}/ and may not know it"
    return None


def foreign(path, name):
    for pattern, folders in OWNERS.items():
        if re.fullmatch(pattern, posixpath.basename(name)):
            if not path.startswith(tuple(folder + "/" for folder in folders)):
                return f"only {' and '.join(folder + '/' for folder in folders)} may include it"
    return None


def circles(graph):
    """Each circle of includes once, as the list of files along it."""
    found, done = [], set()

    def visit(path, trail):
        if path in trail:
            found.append(trail[trail.index(path):] + [path])
        elif path not in done:
            for target in graph.get(path, []):
                visit(target, trail + [path])
            done.add(path)

    for path in sorted(graph):
        visit(path, [])
    return found


def check(root):
    known = [path for path in tree.files(root, *tree.CODE)
             if path.startswith(("lib/", "cli/", "include/"))]
    graph, breaches = {path: [] for path in known}, []
    for path in known:
        text = without_comments(tree.read(root, path))
        for match in INCLUDE.finditer(text):
            name = match.group(2)
            target = resolve(path, name, graph) if match.group(1) == '"' else None
            problem = breach_of(path, target) if target else foreign(path, name)
            if match.group(1) == '"' and target is None:
                problem = "no such file in include/, lib/ or beside it"
            if problem:
                breaches.append(f"{path}:{tree.line_of(text, match.start())}: {name}: {problem}")
            if target:
                graph[path].append(target)
    breaches += ["circle: " + " -> ".join(circle) for circle in circles(graph)]
    return len(known), breaches


CLEAN = {
    "include/undersill/a.h": "",
    "lib/base/b.h": '#include "undersill/a.h"\n',
    "lib/base/c.c": '#include "base/b.h"\n/* #include "grid/g.h" */\n',
    "lib/grid/g.h": '#include "base/b.h"\n#include <stdio.h>\n',
    "lib/solve/s.c": '#include "grid/g.h"\n#include <cholmod.h>\n',
    "cli/main.c": '#include "undersill/a.h"\n#include "options.h"\n#include <argp.h>\n',
    "cli/options.h": "",
}
PLANTS = [
    ({"lib/base/c.c": '#include "grid/g.h"\n'}, "base/ comes before grid/"),
    ({"lib/grid/x.c": '#include <suitesparse/cholmod.h>\n'}, "only lib/solve/"),
    ({"lib/grid/x.c": '#include <lapacke.h>\n'}, "only lib/solve/"),
    ({"lib/model/x.c": '#include <yaml.h>\n'}, "only lib/input/"),
    ({"lib/draw/x.c": '#include <argp.h>\n'}, "only cli/"),
    ({"cli/main.c": '#include "grid/g.h"\n'}, "public headers only"),
    ({"cli/main.c": '#include "../lib/grid/g.h"\n'}, "public headers only"),
    ({"include/undersill/a.h": '#include "base/b.h"\n'}, "public header includes"),
    ({"lib/other/x.c": '#include "base/b.h"\n'}, "no place in the order"),
    ({"lib/base/c.c": '#include "base/gone.h"\n'}, "no such file"),
    ({"lib/base/b.h": '#include "d.h"\n', "lib/base/d.h": '#include "base/b.h"\n'},
     "circle: lib/base/b.h -> lib/base/d.h -> lib/base/b.h"),
]

if __name__ == "__main__":
    tree.run(check, CLEAN, PLANTS)
