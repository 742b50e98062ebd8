import ctypes
from pathlib import Path, PurePosixPath, PureWindowsPath
from types import SimpleNamespace

import pytest

from estate.store.location import (
    NETWORK_KINDS,
    filesystem_kind,
    is_windows_share,
    lies_on_network_share,
    linux_mounts,
    mac_mounts,
)

LINUX = """\
22 28 0:20 / /proc rw,nosuid shared:5 - proc proc rw
28 1 254:0 / / rw,relatime shared:1 - ext4 /dev/vda rw
91 28 0:52 / /mnt/estates rw,relatime shared:40 - cifs //server/estates rw,vers=3.0
92 28 0:53 / /mnt/our\\040files rw,relatime - nfs4 server:/files rw
93 28 254:1 / /mnt/estates/local rw - xfs /dev/vdb rw
not a mount at all
"""

MAC = """\
/dev/disk3s1s1 on / (apfs, sealed, local, read-only, journaled)
//officer@server/estates on /Volumes/our estates (smbfs, nodev, nosuid, mounted by officer)
map auto_home on /System/Volumes/Data/home (autofs, automounted, nobrowse)
nothing
"""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/home/officer", "ext4"),
        ("/mnt/estates", "cifs"),
        ("/mnt/estates/2026/registers", "cifs"),
        ("/mnt/estates/local/x", "xfs"),
        ("/mnt/estates2", "ext4"),
        ("/mnt/our files/x", "nfs4"),
    ],
)
def test_that_the_innermost_mount_on_linux_counts(folder: str, kind: str) -> None:
    assert filesystem_kind(PurePosixPath(folder), linux_mounts(LINUX)) == kind


@pytest.mark.parametrize(
    ("folder", "kind"), [("/Users/officer", "apfs"), ("/Volumes/our estates/x", "smbfs")]
)
def test_that_the_innermost_mount_on_macos_counts(folder: str, kind: str) -> None:
    assert filesystem_kind(PurePosixPath(folder), mac_mounts(MAC)) == kind


def test_that_without_mounts_nothing_is_claimed() -> None:
    assert filesystem_kind(PurePosixPath("/home"), {}) == ""
    assert "" not in NETWORK_KINDS


def test_that_shares_are_network_and_disks_are_not() -> None:
    assert {"cifs", "smbfs", "nfs", "nfs4", "9p", "fuse.sshfs"} <= NETWORK_KINDS
    assert not {"ext4", "xfs", "btrfs", "apfs", "overlay", "tmpfs", "fuseblk"} & NETWORK_KINDS


def test_that_the_folder_for_temporary_files_is_no_share(tmp_path: Path) -> None:
    assert not lies_on_network_share(tmp_path / "register.db")


@pytest.mark.parametrize(
    ("folder", "share"), [(r"\\server\estates\2026", True), (r"Z:\estates", True), (r"C:\estates", False)]
)
def test_that_on_windows_a_server_s_name_or_a_remote_drive_is_a_share(
    monkeypatch: pytest.MonkeyPatch, folder: str, share: bool
) -> None:
    kinds = {"Z:\\": 4, "C:\\": 3}
    windows = SimpleNamespace(kernel32=SimpleNamespace(GetDriveTypeW=kinds.__getitem__))
    monkeypatch.setattr(ctypes, "windll", windows, raising=False)
    assert is_windows_share(PureWindowsPath(folder)) is share
