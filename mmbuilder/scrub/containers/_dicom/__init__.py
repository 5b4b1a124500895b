"""What of a DICOM object is kept, emptied, replaced or dropped; its pixels; its identifiers."""
