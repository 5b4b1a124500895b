"""The parts of the line: each module carries one part of a case across, field by field."""
