from pathlib import Path

import pytest

from estate import assets


def test_that_the_checkout_s_own_folders_are_found(checkout: Path) -> None:
    assert assets.resource("rules", "uk.toml") == checkout / "resources" / "rules" / "uk.toml"
    assert assets.resource() == checkout / "resources"
    assert assets.migrations() == checkout / "migrations"


def test_that_a_wheel_s_folders_inside_the_package_come_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "estate" / "_resources").mkdir(parents=True)
    (tmp_path / "estate" / "_migrations").mkdir()
    monkeypatch.setattr(assets, "files", lambda name: tmp_path / name)
    assert assets.resource("rules") == tmp_path / "estate" / "_resources" / "rules"
    assert assets.migrations() == tmp_path / "estate" / "_migrations"


def test_that_a_checkout_tells_its_version(checkout: Path) -> None:
    told = (checkout / "pyproject.toml").read_text("utf-8")
    assert f'version = "{assets.checkout_version()}"' in told


def test_that_a_package_in_no_checkout_tells_no_version(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(assets, "files", lambda name: tmp_path / name)
    assert assets.checkout_version() == ""
