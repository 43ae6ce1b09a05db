// Package page writes an executed notebook as one HTML file that needs nothing
// else: no script, no request to anywhere, readable from a disk, on a phone, on
// paper, in the dark and with a screen reader.
//
// Text is the author's and code is folded away; results stay open. Whatever a
// notebook carries that came from a data file is shown as text and never acts:
// markdown and HTML pass the same sanitiser, links and pictures that would
// reach outside are left out, characters that cannot be seen are written as
// escapes, and what is too long is cut, saying by how much.
package page
