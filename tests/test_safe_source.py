"""What the source may not do: run text as code or as a command, trust bytes as objects, put values into SQL or HTML.

The kinds of weakness are CWE-78, CWE-89, CWE-94, CWE-502 and CWE-79 of MITRE's list.
"""

import ast
from functools import cache
from pathlib import Path

TOP = Path(__file__).parents[1]
SOURCES = sorted((TOP / "donorbase").rglob("*.py")) + sorted((TOP / "migrations").rglob("*.py"))
TEMPLATES = sorted((TOP / "donorbase").rglob("*.html"))

RUN_AS_CODE = {"eval", "exec", "compile", "__import__", "execfile"}
OBJECTS_OF_BYTES = {"pickle", "marshal", "shelve", "dill", "cloudpickle", "joblib", "yaml"}
COMMANDS = {"subprocess", "pty", "commands", "sh", "ctypes"}
OF_OS = {"system", "popen", "execv", "execve", "execl", "execvp", "spawnl", "spawnv", "startfile", "mktemp"}
RUNS_SQL = {"execute", "executemany", "executescript", "exec_driver_sql", "text", "literal_column", "DDL", "looked_up"}

# What is put into SQL as text, and why it is none of a user's words.
PUT_INTO_SQL = {
    "donorbase/services/database.py": {"rows"},  # tables of _COUNTED
    "donorbase/store/server_look.py": {"rows"},  # the same, on a server
    "donorbase/store/engine.py": {"busy_ms", "'ON' if foreign_keys else 'OFF'"},  # numbers and two words of ours
    "donorbase/store/new_file.py": {"APPLICATION_ID"},
    "donorbase/store/soundness.py": {"MOST_FAULTS"},
    "donorbase/store/search.py": {"every"},  # names of parameters; what was typed are their values
    "donorbase/store/looked_up.py": {"asked", "rest"},  # what is asked stands beside each call, and is looked at there
    "donorbase/store/text_letters.py": {"INDEX", "letters"},  # our index, and a schema that the server quotes
    "migrations/versions/0018_letters_of_texts.py": {"INDEX"},
    # Names of our own tables and columns, looked up in the schema that this release makes.
    "donorbase/store/salvage.py": {"name", "which", "change"},
    "migrations/versions/0009_words_of_sightings.py": {"name", "body"},
}
MARKED_AS_MARKUP = {"donorbase/reports/pages.py"}  # drawings, which escape their own words


@cache
def nodes() -> tuple[tuple[str, ast.AST], ...]:
    """Every node of the source with its file."""
    assert len(SOURCES) > 100, "the test looks in the wrong place"
    return tuple(
        (path.relative_to(TOP).as_posix(), node)
        for path in SOURCES
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
    )


def modules(node: ast.AST) -> set[str]:
    if isinstance(node, ast.Import):
        return {alias.name.split(".")[0] for alias in node.names}
    return {str(node.module).split(".")[0]} if isinstance(node, ast.ImportFrom) else set()


def called(node: ast.AST) -> tuple[str, str]:
    """The object and the name of what is called."""
    if not isinstance(node, ast.Call):
        return "", ""
    if isinstance(node.func, ast.Attribute):
        return ast.unparse(node.func.value), node.func.attr
    return "", node.func.id if isinstance(node.func, ast.Name) else ""


def test_no_text_runs_as_code_or_as_a_command_and_no_bytes_become_objects() -> None:
    found = []
    for place, node in nodes():
        of, name = called(node)
        banned = modules(node) & (OBJECTS_OF_BYTES | COMMANDS)
        as_code = not of and name in RUN_AS_CODE
        of_os = of in ("os", "tempfile") and name in OF_OS
        by_shell = isinstance(node, ast.keyword) and node.arg == "shell"
        if banned or as_code or of_os or by_shell:
            found.append((place, ast.unparse(node)))
    assert not found


def test_modules_are_imported_by_names_of_ours() -> None:
    """The only names of modules that are put together are those of the commands, which stand in the source."""
    by_name = {place for place, node in nodes() if called(node)[1] == "import_module"}
    assert by_name == {"donorbase/cli/lazy.py", "donorbase/cli/calc_answer.py"}


def put_together(node: ast.expr) -> set[str]:
    """What is put into a text, as source."""
    if isinstance(node, ast.JoinedStr):
        return {ast.unparse(part.value) for part in node.values if isinstance(part, ast.FormattedValue)}
    if isinstance(node, ast.BinOp):
        sides = [side for side in (node.left, node.right) if not isinstance(side, ast.Constant)]
        return {ast.unparse(side) for side in sides} if isinstance(node.op, ast.Add | ast.Mod) else set()
    is_format = isinstance(node, ast.Call) and called(node)[1] in ("format", "replace", "join")
    return {ast.unparse(node)} if is_format else set()


def test_sql_is_put_together_of_names_of_ours_alone() -> None:
    seen: dict[str, set[str]] = {}
    looked = 0
    for place, node in nodes():
        if called(node)[1] in RUNS_SQL and isinstance(node, ast.Call) and node.args:
            looked += 1
            if parts := put_together(node.args[0]):
                seen.setdefault(place, set()).update(parts)
    assert looked > 50, "too few statements seen: the test looks in the wrong place"
    assert seen == PUT_INTO_SQL


def test_every_page_escapes_what_it_is_given() -> None:
    assert len(TEMPLATES) > 10
    for path in TEMPLATES:
        text = path.read_text("utf-8")
        for sign in ("| safe", "|safe", "autoescape", "<script", "javascript:"):
            assert sign not in text, f"{path}: {sign}"
    marked = {place for place, node in nodes() if called(node)[1] == "Markup"}
    assert marked == MARKED_AS_MARKUP
    environments = [node for _, node in nodes() if called(node)[1] == "Environment" and isinstance(node, ast.Call)]
    assert environments
    for made in environments:
        assert any(k.arg == "autoescape" and ast.unparse(k.value) == "True" for k in made.keywords)


def test_one_file_prints() -> None:
    """Whatever is printed goes through `cli/output.py`, which takes out what would steer a terminal."""
    printers = {"echo", "secho", "print", "echo_via_pager"}
    calls = [(place, called(node)) for place, node in nodes() if place.startswith("donorbase/")]
    users = {place for place, (of, name) in calls if name in printers and of in ("", "click")}
    assert users == {"donorbase/cli/output.py"}, "print by output.say, tell, show_table, show_json or show_file"
    writers = {place for place, (of, name) in calls if name == "write" and of.endswith(("stdout", "stderr"))}
    assert not writers
