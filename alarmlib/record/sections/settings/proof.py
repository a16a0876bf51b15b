"""The proof: what was assumed, what holds, how the rest fails, what each fault opens; for the owner's eyes."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block
from alarmlib.record.context import Context
from alarmlib.record.proof_blocks import proof_blocks
from alarmlib.record.section import section


@section("proof", "Proof on paper", level=Share.OWNER, needs=("site.rooms",))  # it shows every blind spot
def proof(context: Context) -> tuple[Block, ...]:
    """The proof kept of this home, or the plain word that there is none or that it is out of date."""
    return tuple(proof_blocks(context, context.kept))
