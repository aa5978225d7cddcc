"""List the usual slips in writing TOML, each with the way out.

Rule    SLIPS: a pattern looked for in the line that could not be read, what is wrong in plain words, and what is
        allowed; the first that is found counts. WORDS: the start of the standard reader's own message, and the
        same in plain words, for a line in which no usual slip is found.
Source  TOML 1.0.0; messages of Python's `tomllib`. Which slips are usual: common practice, no source.
"""

from __future__ import annotations

SLIPS: tuple[tuple[str, str, str], ...] = (
    (r"[“”„‟«»‘’‚]", "curly quotes are not understood", 'straight quotes: "like this"'),
    (r"^\s*(//|;|--|/\*)", "a remark starts with another sign here", "# and then the remark"),
    (r"=\s*-?\d+,\d+\s*(#.*)?$", "a comma stands where the decimal point belongs", "a point, as in 4.5"),
    (r"=\s*\d{1,2}\.\d{1,2}\.\d{2,4}\b", "a date is written with the year first", "2026-01-31, without quotes"),
    (r"=\s*\d{1,4}/\d{1,2}/\d{1,4}\b", "a date is written with the year first", "2026-01-31, without quotes"),
    (r"=\s*\d{4}-\d{2}-\d{2}\s*(#.*)?$", "there is no such day", "a day of the calendar, such as 2026-01-31"),
    (r"=\s*(?i:yes|on|ja|true)\s*(#.*)?$", "yes is written another way", "true"),
    (r"=\s*(?i:no|off|nein|false)\s*(#.*)?$", "no is written another way", "false"),
    (r"=\s*0\d+\s*(#.*)?$", "a number does not start with 0", "the number without the 0 before it"),
    (r"=\s*\+?-?(\d+\.(?!\d)|\.\d)", "a point needs a figure on both sides", "4.0 or 0.5"),
    (r"=\s*-?\d+/\d+\s*(#.*)?$", "a fraction needs quotes", 'the fraction in quotes: "1/2"'),
    (r"=\s*-?[\d.]+\s*[%A-Za-z]", "there is more than a number here", "the number alone, or a text in quotes"),
    (r"^\s*[\w-]+\s*:", "a colon stands where = belongs", "a key, then =, then its value"),
    (r"^\s*[\w-]+([ \t]+[\w-]+)+\s*=", "a key is one word", "an underscore for each space: keys_per_day"),
    (r"=\s*(#.*)?$", "there is nothing after the =", "a value after the ="),
    (r"=\s*[^\W\d_]", "a text needs quotes", 'quotes around the text: "flute"'),
    (r'=\s*"[^"]*$', "the closing quote is missing", '" at the end of the text'),
    (r"=\s*'[^']*$", "the closing quote is missing", "' at the end of the text"),
    (r'=\s*"[^"]*\\', "a backslash has a meaning of its own in quotes", "two backslashes, or single quotes"),
    (r"^\s*\[[^\]]*$", "the closing bracket is missing", "[name] for a table, [[name]] for one of several"),
    (r"^\s*\[\[[^\]]*\]\s*(#.*)?$", "a closing bracket is missing", "two pairs of brackets: [[block]]"),
    (r"^\s*[^=#\[\]]+$", "there is no = here", "a key, then =, then its value"),
)

WORDS: tuple[tuple[str, str, str], ...] = (
    ("Cannot overwrite a value", "this key is already written above", "each key once in its table"),
    ("Duplicate inline table key", "this key is written twice between the braces", "each key once"),
    ("Cannot declare", "this table is already written above", "each table once; [[block]] for one of several"),
    ("Cannot mutate immutable namespace", "this table is already written above, on one line", "each table once"),
    ("Unclosed array", "a list is opened with [ and not closed", "] at the end, a comma between the members"),
    ("Unclosed inline table", "{ is opened and not closed on the same line", "{ from = 60, to = 100 } on one line"),
    ("Unterminated string", "a text has no closing quote", "a quote at both ends"),
    ('Expected "\'', "a text has no closing quote", "a quote at both ends"),
    ("Expected newline or end of document", "there is more here than one key and its value", "one key a line"),
    ("Expected '='", "there is no = after the key", "a key, then =, then its value"),
    ("Illegal character", "a sign that cannot stand here, or a quote left open", "text in straight quotes"),
    ("Unescaped", "a backslash has a meaning of its own in quotes", "two backslashes, or single quotes"),
    ("Invalid date", "there is no such day or time", "a day of the calendar, such as 2026-01-31"),
    ("Invalid value", "this value cannot be understood", "text in quotes, a number, true, false, a date or a [list]"),
    ("Invalid statement", "this line cannot be understood", "a key, then =, then its value; or [table]"),
    ("Invalid initial character", "this is not a key", "letters, figures, - and _; others in quotes"),
)  # fmt: skip
