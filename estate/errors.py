"""Every known fault: what happened, where, and what the person can do about it.

Anything that is not a `KnownFault` is a defect of the program.
"""


class KnownFault(Exception):
    """A fault the program expects and can explain.

    Args:
        title: what went wrong, in a few words.
        detail: where and with what: file, sheet, key, value.
        remedy: what the person can do now.
    """

    def __init__(self, title: str, detail: str, remedy: str) -> None:
        super().__init__(title, detail, remedy)
        self.title = title
        self.detail = detail
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.title}: {self.detail} {self.remedy}"


class RegisterFault(KnownFault):
    """The register can't be opened, made, read or written."""


class PasswordFault(RegisterFault):
    """A server asks for a password, and was given none or a wrong one."""


class RuleFault(KnownFault):
    """A rule file or an override is not valid."""


class IntakeFault(KnownFault):
    """A sheet can't be read at all (single rows become problems instead)."""


class EntryFault(KnownFault):
    """What a person entered can't be taken as it stands."""


class NotFoundFault(KnownFault):
    """Something asked for by name is not in the register."""


class ReportFault(KnownFault):
    """A report or an export can't be written."""


class KeyFault(KnownFault):
    """A person's key can't be made, read or used."""
