"""Files as they come, read into :class:`~hoopwright.model.document.Document`: PDF, plain text, Markdown, HTML, scans and photos."""

from hoopwright.reading.read import read_document, read_documents

__all__ = ["read_document", "read_documents"]
