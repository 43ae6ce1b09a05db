package lesson

import (
	"strings"
	"time"
)

// timeFormats are the ways to write a time that need a format, the commoner ones
// first.
var timeFormats = timeFormatList()

func timeFormatList() (formats []string) {
	for _, day := range []string{"%d.%m.%Y", "%d/%m/%Y", "%m/%d/%Y", "%d-%m-%Y", "%m-%d-%Y", "%Y/%m/%d", "%d.%m.%y", "%d/%m/%y", "%m/%d/%y", "%d %b %Y", "%b %d, %Y"} {
		for _, clock := range []string{"", " %H:%M:%S", " %H:%M", " %I:%M:%S %p", " %I:%M %p", ", %H:%M:%S", ", %H:%M", "T%H:%M:%S", " %H:%M:%S %z"} {
			formats = append(formats, day+clock)
		}
	}
	return formats
}

// settleTime finds the format of a column of times: none where they need none.
func (c *lookedAt) settleTime() {
	c.field.Type = "any"
	if len(c.values) == 0 {
		return
	}
	plain := true
	for _, v := range c.values {
		_, _, ok := readTime(v)
		_, err := time.Parse(time.DateOnly, v)
		plain = plain && (ok || err == nil)
	}
	if plain {
		return
	}
	var fit []string
	for _, format := range timeFormats {
		if c.allTimes(format) {
			fit = append(fit, format)
		}
	}
	switch {
	case len(fit) > 0:
		c.field.Format = fit[0]
		if len(fit) > 1 {
			c.doubt("%q is read as %s, and may be %s", clip(c.values[0]), fit[0], strings.Join(fit[1:], " or "))
		}
	case c.field.Measure == "time":
		c.doubt("%q is no time that is understood: write its format, such as %%d.%%m.%%Y %%H:%%M", clip(c.values[0]))
	}
}

func (c *lookedAt) allTimes(format string) bool {
	r, err := timeFormat(format)
	if err != nil {
		return false
	}
	for _, v := range c.values {
		if _, fault := r.translate(v); fault != "" {
			return false
		}
	}
	return true
}
