"""Installs into an empty folder, as a user would, and builds programs outside the
tree against what is there: by CMake, by pkg-config, and in C++.

Usage: run.py BUILD-FOLDER SOURCE-FOLDER CC CXX [FLAGS]

FLAGS are those that the library was built with (sanitizers need them).
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile

SWEEP = ["demo.yaml", "tail_wall", "48.5", "46.5", "5"]


def run(*command, cwd=None, env=None, status=0):
    done = subprocess.run([str(word) for word in command], cwd=cwd, env={**os.environ, **(env or {})},
                          capture_output=True, text=True, timeout=300, check=False)
    if done.returncode != status:
        sys.exit(f"{' '.join(map(str, command))}: exit status {done.returncode}, not {status}\n"
                 f"{done.stdout}{done.stderr}")
    return done.stdout


def expect(true, message):
    if not true:
        sys.exit(message)


class Place:
    """An installed tree, and how programs are built against it."""

    def __init__(self, arguments, top):
        self.build, self.source, self.cc, self.cxx = arguments[:4]
        self.flags = arguments[4].split() if len(arguments) > 4 else []
        self.top = top
        self.prefix = os.path.join(top, "first place")

    def file(self, *parts):
        return os.path.join(self.prefix, *parts)

    def find(self, name):
        """The one file of that name."""
        found = [os.path.join(folder, name) for folder, _, names in os.walk(self.prefix)
                 if name in names]
        expect(len(found) == 1, f"{name}: {len(found)} of them installed")
        return found[0]

    def folder_of_libraries(self):
        return os.path.dirname(self.find("libundersill.so"))

    def pkg_config(self, *words):
        folder = os.path.dirname(self.find("undersill.pc"))
        env = {"PKG_CONFIG_PATH": folder, "PKG_CONFIG_ALLOW_SYSTEM_CFLAGS": "1"}
        said = run("pkg-config", *words, "undersill", env=env)
        # pkg-config puts a backslash before each space of a path.
        return [re.sub(r"\\(.)", r"\1", word) for word in re.split(r"(?<!\\)\s+", said.strip())]


def install(place):
    run("cmake", "--install", place.build, "--prefix", place.prefix)
    for name in ("undersillConfig.cmake", "undersillConfigVersion.cmake", "undersill.h", "LICENSE"):
        place.find(name)
    pages = os.listdir(os.path.join(place.source, "docs", "man"))
    for name in pages:
        expect(f"man{name[-1]}" in place.find(name), f"{name}: in another chapter")
    expect(pages and os.path.isfile(place.file("share", "bash-completion", "completions",
                                               "undersill")), "no manual page or completion")
    expect(not any(name.endswith(".a") for _, _, names in os.walk(place.prefix) for name in names),
           "a static library was installed")
    tool = run(place.file("bin", "undersill"), "--version")
    version = place.pkg_config("--modversion")[0]
    expect(version in tool, f"undersill.pc says {version}, the tool {tool}")


def check_names(place):
    """The names that the loader and the linker go by."""
    target = os.path.realpath(place.find("libundersill.so"))
    release = re.fullmatch(r"libundersill\.so\.(\d+\.\d+\.\d+)", os.path.basename(target))
    expect(release is not None, f"{target}: not named after the release")
    dynamic = run("readelf", "--dynamic", target)
    expect("Library soname: [libundersill.so.0]" in dynamic, f"SONAME is not .0:\n{dynamic}")
    expect("RPATH" not in dynamic and "RUNPATH" not in dynamic, f"a run path is left:\n{dynamic}")
    for name in ("undersill.pc", "undersillTargets.cmake", "undersillConfig.cmake"):
        with open(place.find(name), encoding="utf-8") as stream:
            text = stream.read()
        for folder in (place.build, place.source, place.prefix):
            expect(folder not in text, f"{name} names {folder}")


def sweep(place, program):
    examples = os.path.join(place.source, "examples")
    return run(program, *SWEEP, cwd=examples, env={"LD_LIBRARY_PATH": place.folder_of_libraries()})


def build_by_cmake(place, name):
    source = shutil.copytree(os.path.join(place.source, "examples", "library"),
                             os.path.join(place.top, f"{name} source"))
    target = os.path.join(place.top, f"{name} build")
    run("cmake", "-S", source, "-B", target, f"-DCMAKE_PREFIX_PATH={place.prefix}",
        f"-DCMAKE_C_COMPILER={place.cc}", f"-DCMAKE_C_FLAGS={' '.join(place.flags)}")
    run("cmake", "--build", target)
    return os.path.join(target, "sweep")


def build_by_pkg_config(place):
    target = os.path.join(place.top, "sweep_pc")
    run(place.cc, "-std=c17", *place.flags, "-pthread",
        os.path.join(place.source, "examples", "library", "sweep.c"),
        *place.pkg_config("--cflags", "--libs"), "-o", target)
    return target


def build_cxx(place):
    target = os.path.join(place.top, "cxx")
    run(place.cxx, "-std=c++17", "-Wall", "-Wextra", "-Wpedantic", "-Werror", *place.flags,
        os.path.join(place.source, "tests", "install", "cxx.cpp"),
        *place.pkg_config("--cflags", "--libs"), "-o", target)
    return target


def check_versions(place):
    """find_package() takes this minor release and no other."""
    folder = os.path.join(place.top, "versions")
    os.mkdir(folder)
    with open(os.path.join(folder, "CMakeLists.txt"), "w", encoding="utf-8") as stream:
        stream.write("cmake_minimum_required(VERSION 3.16)\nproject(versions LANGUAGES C)\n"
                     "find_package(undersill ${WANTED} REQUIRED)\n")
    for wanted, status in (("0.1", 0), ("0.0", 1), ("0.2", 1), ("1.0", 1)):
        run("cmake", "-S", folder, "-B", os.path.join(folder, wanted), f"-DWANTED={wanted}",
            f"-DCMAKE_PREFIX_PATH={place.prefix}", f"-DCMAKE_C_COMPILER={place.cc}", status=status)


def check_table(table):
    rows = [line.split() for line in table.splitlines()]
    expect(len(rows) == 6 and all(len(row) == 4 for row in rows[1:]), f"no table:\n{table}")
    flows = [float(row[1]) for row in rows[1:]]
    expect(flows == sorted(flows, reverse=True) and flows[0] > flows[-1] > 0,
           f"a deeper wall lets less water through:\n{table}")


def main():
    if len(sys.argv) < 5:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory(prefix="undersill install ") as top:
        place = Place(sys.argv[1:], top)
        install(place)
        check_names(place)
        by_cmake = sweep(place, build_by_cmake(place, "cmake"))
        check_table(by_cmake)
        by_pkg_config = sweep(place, build_by_pkg_config(place))
        expect(by_cmake == by_pkg_config, f"not the same:\n{by_cmake}{by_pkg_config}")
        env = {"LD_LIBRARY_PATH": place.folder_of_libraries()}
        said = run(build_cxx(place), env=env)
        expect(said.startswith("high 0."), f"the C++ program says {said}")
        check_versions(place)
        os.rename(place.prefix, os.path.join(top, "second place"))
        place.prefix = os.path.join(top, "second place")
        expect(sweep(place, build_by_pkg_config(place)) == by_cmake, "not the same after moving")
        expect(sweep(place, build_by_cmake(place, "moved")) == by_cmake, "not the same after moving")
        run("cmake", "--install", place.build, env={"DESTDIR": os.path.join(top, "staged")})
        staged = [name for _, _, names in os.walk(os.path.join(top, "staged")) for name in names]
        expect("libundersill.so" in staged and "undersill.pc" in staged, "DESTDIR was not heeded")
        print(by_cmake, end="")


if __name__ == "__main__":
    main()
