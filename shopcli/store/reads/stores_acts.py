"""What somebody did on the stores today and may take back: it belongs to no one card."""

import json

from shopcli.shop.hours import midnight
from shopcli.shop.inverses import INVERSES, short
from shopcli.shop.lately import LastAct
from shopcli.shop.touched import from_text
from shopcli.shop.undo_words import effects
from shopcli.store.shop import Shop

STORE_ACTS = (
    "CountStock",
    "CorrectStock",
    "DraftOrder",
    "AddToOrder",
    "ChangeOrderLine",
    "SendOrder",
    "CancelOrder",
    "GoodsIn",
    "NotComing",
    "SendBack",
    "SendOldUnit",
    "CreditCame",
    "OldUnitBack",
    "AddOutwork",
    "ChangeOutwork",
    "OutworkBack",
)
MINE = f"""
SELECT j.id, j.act, j.at, j.answer, j.touched FROM journal j
WHERE j.person_id = ? AND j.at >= ? AND j.touched <> '' AND j.act IN ({", ".join("?" * len(STORE_ACTS))})
AND NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id) ORDER BY j.id DESC LIMIT ?"""
MOST_BACK = 20


def last_store_acts(shop: Shop, person_id: int) -> tuple[LastAct, ...]:
    """Return what somebody did on the stores today and still stands, the last first."""
    today = midnight(shop.local(shop.at()).date(), shop.settings.tz())
    return tuple(
        LastAct(
            key,
            act,
            short(act),
            shop.local(at),
            tuple(json.loads(answer)),
            effects(shop.fetch, from_text(touched), shop.settings.tz(), shop.at()),
            "",
            "",
            None,
        )
        for key, act, at, answer, touched in shop.fetch(MINE, (person_id, today, *STORE_ACTS, MOST_BACK))
        if act in INVERSES
    )
