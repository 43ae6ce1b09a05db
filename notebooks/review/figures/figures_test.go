package figures

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/notebooks/review"
)

// A long day has more stages and more clubs than one picture holds: it takes
// several, and loses none.
func TestLongLessonsTakeSeveralFigures(t *testing.T) {
	var b strings.Builder
	b.WriteString("stage,intent,club,carry_yd,side_yd\n")
	for c := range 12 {
		for stage := range 2 {
			for ball := range 6 {
				fmt.Fprintf(&b, "st%d,full,club %d,%d,%d\n", stage, c, 100+10*c+ball*ball%7+5*stage, ball-3)
			}
		}
	}
	for stage := range 26 {
		for ball := range 3 {
			fmt.Fprintf(&b, "long %d,full,long,%d,%d\n", stage, 200+ball*ball+stage%4, ball-stage%3)
		}
	}
	file := filepath.Join(t.TempDir(), "shots.csv")
	if err := os.WriteFile(file, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	r, err := review.Open(review.Source{File: file})
	if err != nil {
		t.Fatal(err)
	}
	stages, err := Stages(r, "long")
	if err != nil || len(stages) != 2 || !strings.Contains(stages[1].Alt()+stages[0].Alt(), "long 25") {
		t.Errorf("%d figures of 26 stages, %v", len(stages), err)
	}
	effects, err := Effects(context.Background(), r)
	if err != nil || len(effects) < 2 {
		t.Errorf("%d figures of the effects, %v", len(effects), err)
	}
}
