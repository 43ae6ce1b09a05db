"""Writes python_nbformat.ipynb, which nbformat_test.go reads and writes again.

Run with Python 3.11.2 and nbformat 5.5.0 (package python3-nbformat of Debian
12): python3 write_notebook.py
"""
import nbformat
from nbformat import NotebookNode
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output, new_raw_cell

ODD = "a\r\nb\rc\vd\fe\x1cf\x1dg\x1eh\x85i\u2028j\u2029k\x00\x01\x1f\x7f\b\t\"\\/<>&'\U0001f3cc\n"

nb = new_notebook(
    metadata={
        "zeta": {"b": [1, 1.0, -2.5, 1e-5, 0.0001, 1e16, 123456789012345.0, 1e22, 10**20], "a": None},
        "kernelspec": {"name": "landfall", "display_name": "Go (Landfall)", "language": "go"},
        "empty": {"list": [], "object": {}, "text": "", "yes": True, "no": False},
        "Größe": "ä € 𝒳",
    },
    cells=[
        new_markdown_cell(
            "# Title\n\n<b>&amp;</b> $x^2$",
            id="text",
            attachments={"a.svg": {"image/svg+xml": "<svg>\n</svg>\n", "image/png": "iVBO\nRw=="}},
        ),
        new_raw_cell("", id="raw"),
        new_code_cell("", id="empty"),
        new_code_cell("var seed = 1\n", id="parameters", metadata={"tags": ["parameters"], "custom": {"deep": [[], [{}]]}}),
        new_code_cell(
            ODD,
            id="odd",
            execution_count=7,
            outputs=[
                new_output("stream", name="stdout", text=ODD + "no newline at the end"),
                new_output("stream", name="stderr", text="warning\n"),
                new_output(
                    "display_data",
                    data={
                        "text/html": "<p>\n one </p>",
                        "text/plain": "",
                        "image/svg+xml": "<svg>\n</svg>",
                        "image/png": "iVBORw0KGgo=\n",
                        "application/javascript": "f();\ng();\n",
                        "application/json": ["x\n", "y"],
                        "application/vnd.test+json": {"lines": ["a", "b"], "n": 0.1},
                        "application/pdf": "JVBE\nRi0=",
                    },
                    metadata={"image/png": {"width": 640}},
                ),
                new_output("execute_result", data={"text/plain": "42"}, execution_count=7),
                new_output("error", ename="ERROR", evalue="exit status 2", traceback=["exit status 2\n", "two"]),
            ],
        ),
    ],
)
nbformat.write(nb, "python_nbformat.ipynb")
