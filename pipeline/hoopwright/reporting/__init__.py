"""Schedule → what people use: terminal summary, JSON, CSV, and the folder that holds them. Reports only read the schedule.

Heavy libraries are imported where they are used, so that ``hoopwright --help`` does not pay for them.
"""

from hoopwright.reporting.as_json import to_dict
from hoopwright.reporting.lengths import Units, length
from hoopwright.reporting.terminal import print_summary, summary_text
from hoopwright.reporting.writing import DEFAULT, MAKERS, write_outputs

__all__ = ["DEFAULT", "MAKERS", "Units", "length", "print_summary", "summary_text", "to_dict", "write_outputs"]
