"""The local page: the friendliest way through the whole job, and the human half of the scrubber.

It is served to this computer only, keeps nothing of its own beside the case folder, and talks to
no other machine.

    Desk(root)                  the one open case folder
    create_app(desk, ...)       the pages over it, without a socket
    launch(root, ...)           both, served until it is stopped
"""

from mmbuilder.page.app import create_app
from mmbuilder.page.desk import Desk, Moved
from mmbuilder.page.serving import launch

__all__ = ["Desk", "Moved", "create_app", "launch"]
