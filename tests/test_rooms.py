"""The house keeps its own order: rooms with doors, one name for one thing, modules that are read at one sitting."""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "matcher"
MODULES = sorted(ROOT.rglob("*.py"))
ROOMS = sorted(path.name for path in ROOT.iterdir() if path.is_dir() and (path / "__init__.py").is_file())
TREES = {path: ast.parse(path.read_text()) for path in MODULES}
SHORTEST, LONGEST, MOST_ROOMS = 15, 350, 19


def _room(path: Path) -> str:
    parts = path.relative_to(ROOT).parts
    return parts[0] if len(parts) > 1 else ""


def _imports(path: Path) -> Iterator[tuple[str, str]]:
    """Module and name of everything that a module imports from the package."""
    for node in ast.walk(TREES[path]):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "matcher":
            yield from ((node.module, alias.name) for alias in node.names)


def test_there_are_at_most_nineteen_rooms():
    assert len(ROOMS) <= MOST_ROOMS
    loose = {path.name for path in ROOT.iterdir() if path.is_file()}
    assert loose - {"LICENSE", "NOTICES"} == {"__init__.py", "__main__.py", "py.typed"}


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_others_enter_a_room_by_its_door(path):
    """From another room only what its ``__init__`` names may be used, never one of its modules."""
    for module, name in _imports(path):
        room = module.split(".")[1] if "." in module else ""
        if room and room != _room(path):
            assert module == f"matcher.{room}", f"{path.relative_to(ROOT)} reaches into {module} for {name}"


def test_what_a_door_names_is_used_by_others():
    used = {(module.split(".")[1], name) for path in MODULES for module, name in _imports(path) if "." in module}
    beyond = {
        (module.split(".")[1], name)
        for path in MODULES
        for module, name in _imports(path)
        if module.count(".") == 1 and module.split(".")[1] != _room(path)
    }
    named = {(room, name) for room in ROOMS for name in _all_of(ROOT / room / "__init__.py")}
    assert named - beyond == set(), "named at a door, but nobody outside uses it"
    assert beyond <= used


def _all_of(path: Path) -> list[str]:
    for node in TREES[path].body:
        if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "__all__":
            return list(ast.literal_eval(node.value))
    return []


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_module_is_read_at_one_sitting(path):
    """A door is as short as what it names; any other module has enough in it, and no more than can be read."""
    assert (0 if path.name == "__init__.py" else SHORTEST) <= len(path.read_text().splitlines()) <= LONGEST


@pytest.mark.parametrize("door", [path for path in MODULES if path.name == "__init__.py" and path.parent != ROOT])
def test_a_door_lists_its_room_in_reading_order(door):
    told = (ast.get_docstring(TREES[door]) or "").partition("Reading order")[2]
    inside = {path.stem for path in door.parent.glob("*.py")} - {"__init__"}
    inside |= {path.parent.name for path in door.parent.glob("*/__init__.py")}
    assert sorted(re.findall(r"`(\w+)`", told)) == sorted(inside)


def test_no_file_name_stands_three_times():
    names = Counter(path.name for path in MODULES if path.name != "__init__.py")
    assert [name for name, count in names.items() if count > 2] == []


def test_one_name_for_one_class():
    """Classes and type aliases: a name means one thing wherever a reader meets it."""
    found = Counter(
        node.name if isinstance(node, ast.ClassDef) else node.target.id
        for tree in TREES.values()
        for node in tree.body
        if isinstance(node, ast.ClassDef) or (isinstance(node, ast.AnnAssign) and "TypeAlias" in ast.dump(node))
    )
    assert [name for name, count in found.items() if count > 1] == []


def test_modules_do_not_import_each_other_in_a_circle():
    """The package's own door loads the names it lists only when they are used."""
    inside = [path for path in MODULES if path.parent != ROOT]
    edges = {_dotted(path): {_target(module, name) for module, name in _imports(path)} for path in inside}
    done: set[str] = set()

    def visit(module: str, way: tuple[str, ...]) -> None:
        assert module not in way, f"a circle: {' -> '.join((*way, module))}"
        if module not in done:
            for other in sorted(edges.get(module, ())):
                visit(other, (*way, module))
            done.add(module)

    for module in sorted(edges):
        visit(module, ())


def _dotted(path: Path) -> str:
    parts = path.relative_to(ROOT.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _target(module: str, name: str) -> str:
    """The module that an import really reads: a submodule where the name is one."""
    known = {_dotted(path) for path in MODULES}
    return f"{module}.{name}" if f"{module}.{name}" in known else module
