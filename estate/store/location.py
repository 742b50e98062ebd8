"""Whether a file lies on a network share, where SQLite's write-ahead log does not work."""

import ctypes
import subprocess
import sys
from pathlib import Path, PurePath, PurePosixPath

_NETWORK_WORDS = """
9p afpfs afs beegfs ceph cifs davfs gfs2 glusterfs lustre ncpfs nfs nfs4 ocfs2 smb2 smb3 smbfs vboxsf webdav
fuse.davfs fuse.glusterfs fuse.rclone fuse.s3fs fuse.sshfs fuse.vmhgfs-fuse
"""
NETWORK_KINDS = frozenset(_NETWORK_WORDS.split())
_WINDOWS_REMOTE_DRIVE = 4


def lies_on_network_share(path: Path) -> bool:
    """Whether the folder that holds a file is a network share; False where nothing can be found out."""
    folder = path.resolve().parent
    if sys.platform == "win32":
        return is_windows_share(folder)
    return filesystem_kind(PurePosixPath(folder), _mounts()) in NETWORK_KINDS


def linux_mounts(mountinfo: str) -> dict[PurePosixPath, str]:
    """Mount points and kinds of file system in Linux' ``mountinfo``; later mounts hide earlier ones."""
    mounts: dict[PurePosixPath, str] = {}
    for line in mountinfo.splitlines():
        before, _, after = line.partition(" - ")
        parts = before.split()
        if len(parts) > 4 and after:
            point = parts[4].replace("\\040", " ").replace("\\134", "\\")
            mounts[PurePosixPath(point)] = after.split()[0]
    return mounts


def mac_mounts(listing: str) -> dict[PurePosixPath, str]:
    """Mount points and kinds of file system from what ``mount`` prints on macOS."""
    mounts: dict[PurePosixPath, str] = {}
    for line in listing.splitlines():
        place, _, options = line.rpartition(" (")
        _, _, point = place.partition(" on ")
        if point:
            mounts[PurePosixPath(point)] = options.rstrip(")").split(",")[0]
    return mounts


def filesystem_kind(folder: PurePosixPath, mounts: dict[PurePosixPath, str]) -> str:
    """The kind of the innermost mount that holds a folder; empty if none does."""
    for place in (folder, *folder.parents):
        if place in mounts:
            return mounts[place]
    return ""


def _mounts() -> dict[PurePosixPath, str]:
    mountinfo = Path("/proc/self/mountinfo")
    if mountinfo.is_file():
        return linux_mounts(mountinfo.read_text(encoding="utf-8", errors="replace"))
    try:
        told = subprocess.run(["/sbin/mount"], capture_output=True, text=True, timeout=5, check=True)
    except (OSError, subprocess.SubprocessError):
        return {}
    return mac_mounts(told.stdout)


def is_windows_share(folder: PurePath) -> bool:
    """Whether a folder on Windows is given by its server's name or lies on a drive that is a share."""
    if folder.drive.startswith("\\\\"):
        return True
    windows = getattr(ctypes, "windll", None)
    return windows is not None and windows.kernel32.GetDriveTypeW(folder.anchor) == _WINDOWS_REMOTE_DRIVE
