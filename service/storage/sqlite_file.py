"""The file of an SQLite database: private from its first byte on, and recognised at every use.

A connection works on in a file that was deleted or replaced, and all that it writes there is gone with the process.
So the file, its `-wal` and its `-shm` are compared with those of the start by inode, and the header of the file by what
an ordinary write never changes. A file that took its place is used after a restart only.
"""

import os
import stat
import struct
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from time import sleep

from service.storage.errors import DamagedDatabaseError, StorageUnavailableError

_PRIVATE = 0o600
_PRIVATE_FOLDER = 0o700
_HEADER_BYTES = 100
_MAGIC = b"SQLite format 3\0"
_LOOKS = 3
_LOOK_AGAIN_S = 0.002

_Inode = tuple[int, int]


@dataclass(frozen=True)
class _Header:
    """What the first 100 bytes say: `birth` is given once (0: not yet), `changes` and `pages` only grow."""

    birth: int = 0
    changes: int = 0
    pages: int = 0

    def may_become(self, later: "_Header | None") -> bool:
        """Whether the file of this header can have that one later."""
        if later is None:
            return self == _Header()
        grown = later.changes >= self.changes and later.pages >= self.pages
        return grown and self.birth in (0, later.birth)


class _Descriptors:
    """One descriptor an inode, shared by all databases of the process.

    Closing any descriptor of a file drops the locks that SQLite has on it in this process (POSIX): so it is closed
    only when no database of the process uses the file any more.
    """

    def __init__(self) -> None:
        self._open: dict[_Inode, tuple[int, int]] = {}
        self._lock = Lock()

    def taken(self, path: Path, inode: _Inode) -> int:
        with self._lock:
            descriptor, users = self._open.get(inode) or (os.open(path, os.O_RDONLY), 0)
            self._open[inode] = (descriptor, users + 1)
            return descriptor

    def given_back(self, inode: _Inode) -> None:
        with self._lock:
            descriptor, users = self._open.pop(inode)
            if users > 1:
                self._open[inode] = (descriptor, users - 1)
            else:
                os.close(descriptor)


_DESCRIPTORS = _Descriptors()


class SqliteFile:
    """One database file from its first use to `close`. Safe to share by threads."""

    def __init__(self, path: Path, name: str) -> None:
        self.path = path
        self._name = name
        self._beside = (Path(f"{path}-wal"), Path(f"{path}-shm"))
        self._known: tuple[_Inode, ...] = ()
        self._descriptor = -1
        self._header = _Header()

    def prepare(self) -> None:
        """Make the file where it is missing, and keep it from the eyes of other users.

        Raises StorageUnavailableError where there is no ordinary file and none can be made, DamagedDatabaseError
        where it cannot be a database.
        """
        try:
            _make_folder(self.path.parent)
            with suppress(FileExistsError):
                os.close(os.open(self.path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, _PRIVATE))
            found = self.path.stat()
        except OSError as error:
            raise StorageUnavailableError(self._name, f"it cannot be made: {error.strerror}") from error
        if not stat.S_ISREG(found.st_mode):
            raise StorageUnavailableError(self._name, "unable to open it: it is no ordinary file")
        if 0 < found.st_size < _HEADER_BYTES:  # SQLite takes some of these for new
            raise DamagedDatabaseError(self._name, f"file is not a database: it has {found.st_size} bytes")
        for path in (self.path, *self._beside):
            _tighten(path)

    def recognise(self) -> None:
        """Take the file as it is now, with the two beside it, for the one that is expected from now on.

        A connection must be open and stay open: while one is, nobody who knows SQLite replaces any of the three.
        """
        known = self._inodes()
        try:
            self._descriptor = _DESCRIPTORS.taken(self.path, known[0])
        except OSError as error:
            raise StorageUnavailableError(self._name, f"it cannot be read: {error.strerror}") from error
        self._known = known
        self._header = self._read() or _Header()

    def check(self) -> None:
        """Raise StorageUnavailableError unless the file is the one that was recognised."""
        if not self._known:
            return
        if self._inodes() != self._known:
            raise StorageUnavailableError(self._name, f"its file was replaced {_SINCE}")
        for _ in range(_LOOKS):  # a look in the midst of a write may see half of it
            before = self._header
            now = self._read()
            if before.may_become(now):
                self._header = now or before
                return
            sleep(_LOOK_AGAIN_S)
        raise StorageUnavailableError(self._name, f"the content of its file was replaced {_SINCE}")

    def close(self) -> None:
        """Forget the file. All connections to it must be closed."""
        if self._known:
            _DESCRIPTORS.given_back(self._known[0])
            self._known = ()

    def _inodes(self) -> tuple[_Inode, ...]:
        try:
            found = [path.stat() for path in (self.path, *self._beside)]
        except OSError as error:
            missing = Path(error.filename).name
            raise StorageUnavailableError(self._name, f"its file {missing} was removed {_SINCE}") from error
        return tuple((one.st_dev, one.st_ino) for one in found)

    def _read(self) -> _Header | None:
        """Return the header, None where the file has none."""
        header = os.pread(self._descriptor, _HEADER_BYTES, 0)
        if len(header) < _HEADER_BYTES or not header.startswith(_MAGIC):
            return None
        changes, pages = struct.unpack_from(">2I", header, 24)
        [birth] = struct.unpack_from(">I", header, 60)
        return _Header(birth, changes, pages)


_SINCE = "since the start; restart the service to go on with what is there now"


def _make_folder(folder: Path) -> None:
    """Make a folder and those above it that are missing, for their owner alone."""
    if not folder.exists():
        _make_folder(folder.parent)
        folder.mkdir(mode=_PRIVATE_FOLDER, exist_ok=True)


def _tighten(path: Path) -> None:
    """Take the rights of others from a file of ours; a file of another user stays as it is."""
    try:
        found = path.stat()
    except FileNotFoundError:
        return
    if found.st_uid == os.geteuid() and stat.S_IMODE(found.st_mode) & ~_PRIVATE:
        path.chmod(_PRIVATE)
