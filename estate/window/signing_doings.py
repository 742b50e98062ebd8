"""What the actions about keys and signatures do."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import HistoryLine
from estate.domain.register import Batch
from estate.domain.signatures import Key, OwnKey, SignedNoun, Signing
from estate.errors import EntryFault, KeyFault, ReportFault
from estate.window.desk import Desk
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.keys import KnownKeyDialog, NewKeyDialog, PublicKeyDialog
from estate.window.dialogs.signing import SigningDialog, ToSign
from estate.window.form_keeping import FormKeeper, Given
from estate.window.models.outlet_facts import visit_heading
from estate.window.models.signed_facts import batch_facts, visit_facts
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.signatures import Signed
from estate.window.tasks import Tasks
from estate.window.translating import said, tr
from estate.window.undoing import Step

_TEXT = said("Public keys (*.pem *.txt);;All files (*)")
Make = Callable[[OwnKey, str], Signed]

_SIGNED = said("A signature stays: correct the entry or make it void where it should not count.")


class SigningDoings:
    """Runs operations about keys and signatures for the person at the window.

    Args:
        tasks: where they run.
        notices: where their change sets and faults are announced.
        asking: how files are asked for.
        preferences: whose name is kept beside entries.
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences) -> None:
        self._tasks = tasks
        self._notices = notices
        self._asking = asking
        self._preferences = preferences
        self._forms = FormKeeper(tasks, notices)

    def sign_visit(self, desk: Desk, line: HistoryLine, reference: str, parent: QWidget) -> None:
        """Sign or countersign an entry of the history."""
        named = f"{reference}: {visit_heading(line)}"
        told = (named, visit_facts(line.visit), line.signing, line.visit.counts)
        self._open(desk, ToSign(SignedNoun.VISIT, line.visit.id, *told), parent)

    def sign_batch(self, desk: Desk, batch: Batch, parent: QWidget) -> None:
        """Sign or countersign a sheet that was brought in, with all its rows."""

        def opened(found: Signing) -> None:
            told = (batch.file, batch_facts(batch), found, batch.undone is None)
            self._open(desk, ToSign(SignedNoun.BATCH, batch.id, *told), parent)

        self._tasks.run(lambda: desk.signatures.standing(SignedNoun.BATCH, [batch.id])[batch.id], opened)

    def _open(self, desk: Desk, what: ToSign, parent: QWidget) -> None:
        def read() -> tuple[Sequence[OwnKey], Sequence[KeyFault]]:
            known = {each.fingerprint for each in desk.signatures.known_keys() if each.withdrawal is None}
            own, faults = desk.signatures.own_keys()
            return [each for each in own if each.fingerprint in known], faults

        def show(found: tuple[Sequence[OwnKey], Sequence[KeyFault]]) -> None:
            own, faults = found
            if faults and not own:
                self._notices.report(faults[0])
                return
            dialog = SigningDialog(what, own, parent)
            who, asked = self._preferences.who, [what.row_id]
            dialog.sign_asked.connect(
                lambda key, secret: self._keep(
                    desk,
                    dialog,
                    lambda: desk.signatures.sign(what.noun, asked, key, secret, who),
                    tr("Signed"),
                )
            )
            dialog.countersign_asked.connect(
                lambda key, secret: self._keep(
                    desk,
                    dialog,
                    lambda: desk.signatures.countersign(what.noun, asked, key, secret, who),
                    tr("Countersigned"),
                )
            )
            dialog.show_modal()

        self._tasks.run(read, show)

    def _keep(self, desk: Desk, dialog: SigningDialog, work: Callable[[], Signed], said: str) -> None:
        def done(signed: Signed) -> None:
            self._notices.announce(signed.changes)
            self._notices.say(tr("{said} by {person}.", said=said, person=signed.person))
            self._notices.did(Step(desk, tr("sign an entry"), tr(_SIGNED)))

        self._forms.keep(dialog, Given(lambda seen: work(), done, {}))

    def own_key(self, desk: Desk, parent: QWidget) -> None:
        """Show the newest key of one's own, or make one."""

        def show(found: tuple[Sequence[OwnKey], Sequence[KeyFault]]) -> None:
            own, faults = found
            for fault in faults:
                self._notices.report(fault)
            if own:
                self._show(desk, max(own, key=lambda each: each.made_at), parent)
            elif not faults:
                self._make(desk, parent)

        self._tasks.run(desk.signatures.own_keys, show)

    def _make(self, desk: Desk, parent: QWidget) -> None:
        dialog = NewKeyDialog(self._preferences.who, parent)

        def keep(name: str, secret: str) -> None:
            made = Given(
                lambda seen: desk.signatures.make_key(name, secret),
                lambda own: self._show(desk, own, parent),
                {},
            )
            self._forms.keep(dialog, made)

        dialog.given.connect(keep)
        dialog.show_modal()

    def _show(self, desk: Desk, own: OwnKey, parent: QWidget) -> None:
        text = desk.signatures.key_text(own)
        dialog = PublicKeyDialog(own, text, parent)

        def save() -> None:
            name = f"{own.person} public key.pem"
            to = self._asking.file_to_write(tr("Save the public key"), name, tr(_TEXT), dialog)
            if to is not None:
                self._tasks.run(
                    lambda: _write(to, text), lambda done: self._notices.say(tr("Written: {to}", to=to))
                )

        dialog.save_asked.connect(save)
        dialog.another_asked.connect(lambda: self._make(desk, parent))
        dialog.show_modal()

    def add_key(self, desk: Desk, parent: QWidget) -> None:
        """Add a person's public key, once its fingerprint was compared."""
        path = self._asking.file_to_open(tr("Add a person's public key"), tr(_TEXT), parent)
        if path is None:
            return
        who = self._preferences.who

        def added(key: Key) -> None:
            self._notices.say(tr("The register knows the key of {person}.", person=key.person))

        def show(found: tuple[str, OwnKey]) -> None:
            text, own = found
            dialog = KnownKeyDialog(own, parent)
            given = Given(lambda seen: desk.signatures.add_key(text, who), added, {})
            dialog.added.connect(lambda: self._forms.keep(dialog, given))
            dialog.show_modal()

        def read() -> tuple[str, OwnKey]:
            text = _read(path)
            return text, desk.signatures.read_key(text)

        self._tasks.run(read, show)


def _read(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise EntryFault(
            tr("The public key can't be read"), f"{path}: {fault}.", tr("Choose another file.")
        ) from fault


def _write(to: Path, text: str) -> None:
    try:
        to.write_text(text, encoding="utf-8")
    except OSError as fault:
        detail = f"{to}: {fault.strerror}."
        raise ReportFault(
            tr("The public key can't be written"), detail, tr("Choose another folder.")
        ) from fault
