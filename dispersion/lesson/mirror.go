package lesson

import "strings"

// mirror turns the sign of every numeric column that has a right and a left, and
// returns the warning that says so. Where on the face the ball was struck stays:
// toward the toe is toward the toe for everybody.
func (x *columnIndex) mirror(columns []Column) error {
	turned := []string{"side"}
	for _, c := range columns {
		if m, ok := measureOf(c.Name); ok && m.sided && c.Numeric {
			x.turned[c.Name] = true
			turned = append(turned, c.Name)
		}
	}
	return warning(ErrMirrored, "right and left are exchanged in %s, so that a left-handed player can be set beside right-handed ones", strings.Join(turned, ", "))
}
