package lesson

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// readSpec reads mark-up such as "1-8:old,9-16:new/drill".
func readSpec(spec string) ([]mark, error) {
	var marks []mark
	at := 0 // bytes before the part
	for part := range strings.SplitSeq(spec, ",") {
		start := at + len(part) - len(strings.TrimLeft(part, " "))
		at += len(part) + 1
		fail := func(offset int, reason string) error {
			return &MarkupError{Spec: spec, At: utf8.RuneCountInString(spec[:start+offset]) + 1, Reason: reason}
		}
		part = strings.TrimSpace(part)
		balls, label, ok := strings.Cut(part, ":")
		if !ok {
			return nil, fail(0, fmt.Sprintf("%q has no colon: write first-last:stage, such as 1-8:old", clip(part)))
		}
		first, last, ranged := strings.Cut(balls, "-")
		if !ranged {
			last = first
		}
		m := mark{fail: func(reason string) error { return fail(0, reason) }}
		var fault string
		if m.from, m.to, fault = readBalls(first, last); fault != "" {
			return nil, fail(0, fault)
		}
		name, intent, hasIntent := cutLast(label, "/")
		if m.stage = strings.TrimSpace(name); m.stage == "" {
			return nil, fail(len(balls)+1, "a stage needs a name after the colon")
		}
		if m.intent, ok = readIntent(strings.TrimSpace(intent)); !ok || hasIntent && m.intent == "" {
			return nil, fail(len(balls)+1+len(name)+1, fmt.Sprintf("%q is no intent: write %s after the slash, or leave the slash out", clip(intent), intentWords))
		}
		marks = append(marks, m)
	}
	return marks, nil
}

// cutLast is strings.Cut at the last separator, so that a stage's name may
// have one where an intent follows.
func cutLast(text, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(text, sep); i >= 0 {
		return text[:i], text[i+len(sep):], true
	}
	return text, "", false
}
