"""The types that travel between the rooms. They import nothing of ours and do no work beyond their own arithmetic."""
