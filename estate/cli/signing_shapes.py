"""Keys and signatures as JSON values."""

from typing import Any

from estate.domain.signatures import Key, OwnKey, Signing


def own_shape(own: OwnKey) -> dict[str, Any]:
    """A key of one's own."""
    return {"person": own.person, "fingerprint": own.fingerprint, "made_at": own.made_at.isoformat()}


def key_shape(key: Key) -> dict[str, Any]:
    """A key of the register."""
    gone = key.withdrawal
    return {
        "person": key.person,
        "fingerprint": key.fingerprint,
        "key": key.public,
        "made_at": key.made_at.isoformat(),
        "added_by": key.added_by,
        "added_at": key.at.isoformat(),
        "withdrawn": None
        if gone is None
        else {"since": gone.since.isoformat(), "who": gone.who, "at": gone.at.isoformat(), "why": gone.why},
    }


def signing_shape(signing: Signing) -> dict[str, Any]:
    """How an entry stands as to signatures."""
    return {
        "state": signing.state.value,
        "signatures": [
            {
                "signature": each.id,
                "role": each.role.value,
                "person": each.person,
                "fingerprint": each.fingerprint,
                "at": each.at.isoformat() if each.at else None,
                "fits": not each.fault,
                "fault": each.fault,
                "key_withdrawn_before": each.withdrawn,
                "batch": each.batch_id,
                "covers": each.covers,
            }
            for each in signing.signatures
        ],
    }
