"""Every operation that writes does so in one transaction, and is made again where it was overtaken."""

import ast
from pathlib import Path

import pytest

import estate.operations

FOLDER = Path(estate.operations.__file__).parent


def changes(tree: ast.Module) -> dict[str, tuple[int, bool]]:
    """Functions that write into their register: how often, and whether they are retried."""
    found = {}
    for function in ast.walk(tree):
        if isinstance(function, ast.FunctionDef):
            opened = [ast.unparse(each) for each in ast.walk(function) if isinstance(each, ast.Call)]
            count = sum(each.startswith("writing(register.database") for each in opened)
            if count:
                retried = any(ast.unparse(each) == "retried" for each in function.decorator_list)
                found[function.name] = (count, retried)
    return found


def test_that_every_change_is_one_transaction_that_is_made_again() -> None:
    found = {
        f"{path.stem}.{name}": told
        for path in sorted(FOLDER.glob("*.py"))
        for name, told in changes(ast.parse(path.read_text("utf-8"))).items()
    }
    assert len(found) > 10
    assert {name: told for name, told in found.items() if told != (1, True)} == {}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("def f(register):\n    with writing(register.database, 'x'): pass", (1, False)),
        ("@retried\ndef f(register):\n    with writing(register.database): pass", (1, True)),
        (
            "@retried\ndef f(register):\n    with writing(register.database): pass\n"
            "    with writing(register.database): pass",
            (2, True),
        ),
    ],
)
def test_that_a_change_that_forgets_it_is_found(text: str, expected: tuple[int, bool]) -> None:
    assert changes(ast.parse(text)) == {"f": expected}
