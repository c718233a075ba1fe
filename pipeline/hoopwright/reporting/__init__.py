"""Schedule → what people use: terminal summary, files, printed sheets, web page, marked manual. Reports only read the schedule.

Heavy libraries are imported where they are used, so that ``hoopwright --help`` does not pay for them.
"""

from hoopwright.reporting.as_json import to_dict
from hoopwright.reporting.lengths import Units, length
from hoopwright.reporting.makers import DEFAULT, MAKERS, Paper
from hoopwright.reporting.terminal import print_summary, summary_text
from hoopwright.reporting.writing import write_outputs

__all__ = ["DEFAULT", "MAKERS", "Paper", "Units", "length", "print_summary", "summary_text", "to_dict", "write_outputs"]
