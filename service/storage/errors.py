"""What the storage refuses or cannot do, each with a kebab-case code and the values that say so clearly.

StorageError
 ├─ DatabaseUrlError          the address names no database that this service can use
 ├─ StorageUnavailableError   the database does not answer, or not now: try again later
 │   ├─ StorageBusyError      somebody else holds it for longer than we wait
 │   ├─ StorageSilentError    it was reached, but says nothing any more
 │   └─ StorageFullError      no room is left to write
 ├─ DamagedDatabaseError      the file is not a database, or a broken one
 ├─ DatabaseVersionError      the tables are not those of this version of the service
 ├─ RowsRefusedError          what was to be written breaks a rule that the tables keep
 ├─ NotEmptyError             something is kept already where a backup was to be restored
 ├─ UnknownRevisionError      no revision has this number
 ├─ NewerRevisionError        another revision was published in between
 ├─ UnknownDraftError         no draft has this id
 ├─ PublishedDraftError       the draft is published already: nothing changes it any more
 ├─ ChangedDraftError         the draft is not as it was when it was looked at
 └─ DamagedRevisionError      a revision is no longer what was published under its number
"""


class StorageError(Exception):
    """The base of all storage errors."""

    code = "storage-error"


class DatabaseUrlError(StorageError):
    """The address is unusable; the text never repeats the address, which may hold a password."""

    code = "database-url"


class _DatabaseError(StorageError):
    """`database` is the address without password; `reason` is the database's own word in one line."""

    sentence = "the database {database} refused: {reason}"

    def __init__(self, database: str, reason: str) -> None:
        super().__init__(self.sentence.format(database=database, reason=reason))
        self.database = database
        self.reason = reason


class StorageUnavailableError(_DatabaseError):
    """The database cannot be reached or used at the moment."""

    code = "storage-unavailable"
    sentence = "the database {database} is not available: {reason}"


class StorageBusyError(StorageUnavailableError):
    """The database is held by others for longer than we wait; the same call may well work later."""

    code = "storage-busy"
    sentence = "the database {database} is busy: {reason}"


class StorageSilentError(StorageUnavailableError):
    """The connection says nothing any more, or none comes about; what it was in the midst of is not known."""

    code = "storage-silent"
    sentence = "the database {database} does not answer: {reason}"


class StorageFullError(StorageUnavailableError):
    """The database has no room left; nothing of the transaction was kept."""

    code = "storage-full"
    sentence = "the database {database} has no room left: {reason}"


class DamagedDatabaseError(_DatabaseError):
    """The file is not a database or its content is broken; it must be restored from a copy or moved away."""

    code = "damaged-database"
    sentence = "the database {database} is damaged or is no database: {reason}"


class DatabaseVersionError(_DatabaseError):
    """The tables are missing or belong to another version of the service."""

    code = "database-version"
    sentence = "the tables in {database} are missing or of another version of the service: {reason}"


class RowsRefusedError(_DatabaseError):
    """A key, a reference or a check of the tables does not hold: the input was not checked before."""

    code = "rows-refused"
    sentence = "the database {database} refused what was to be written: {reason}"


class NotEmptyError(_DatabaseError):
    """A backup is restored into an empty database alone: nothing is ever mixed or replaced."""

    code = "not-empty"
    sentence = "the database {database} is not empty: {reason}"


class UnknownRevisionError(StorageError):
    """`number` was asked for; `newest` is the newest there is, None while there is none."""

    code = "unknown-revision"

    def __init__(self, number: int, newest: int | None) -> None:
        known = "there is none yet" if newest is None else f"the newest is {newest}"
        super().__init__(f"no revision {number}: {known}")
        self.number = number
        self.newest = newest


class NewerRevisionError(StorageError):
    """What is to follow revision `base` cannot, as the newest is `newest`."""

    code = "newer-revision"

    def __init__(self, base: int | None, newest: int | None) -> None:
        super().__init__(f"what follows revision {base} cannot be published: the newest is {newest}")
        self.base = base
        self.newest = newest


class UnknownDraftError(StorageError):
    """`id` was asked for."""

    code = "unknown-draft"

    def __init__(self, id_: str) -> None:
        super().__init__(f"no draft {id_!r}")
        self.id = id_


class PublishedDraftError(StorageError):
    """The draft was published as `revision`."""

    code = "published-draft"

    def __init__(self, id_: str, revision: int) -> None:
        super().__init__(f"the draft {id_!r} was published as revision {revision}")
        self.id = id_
        self.revision = revision


class ChangedDraftError(StorageError):
    """The draft has another `version` than the one that was looked at."""

    code = "changed-draft"

    def __init__(self, id_: str, version: int) -> None:
        super().__init__(f"the draft {id_!r} was changed meanwhile: its version is {version}")
        self.id = id_
        self.version = version


class DamagedRevisionError(StorageError):
    """Revision `number` does not read back as it was published; `reason` says how that shows."""

    code = "damaged-revision"

    def __init__(self, number: int, reason: str) -> None:
        super().__init__(f"revision {number} is not what was published under this number: {reason}")
        self.number = number
        self.reason = reason
