"""Open a finished file and look in every part of it for anything that is known to identify.

The sweep does not trust the scrubber: it shares no code with the writing of the file, and
it reads what came out, byte by byte, in every encoding a name could hide in.

    known(folder) -> Known          what to look for: declared identifiers, dates, file names
    sweep(name, data, known)        every place where one was found, without its text
    guard(name, data, known)        the same as an error
"""

from mmbuilder.scrub.sweep.known import Known, known
from mmbuilder.scrub.sweep.search import Leak, guard, sweep

__all__ = ["Known", "Leak", "guard", "known", "sweep"]
