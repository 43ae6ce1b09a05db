package review

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A stage that is all mishits beside the other one leaves nothing to deal: that is
// said, and the rest of the review goes on.
func TestNoWallWhereAStageIsAllMishits(t *testing.T) {
	var b strings.Builder
	b.WriteString("stage,intent,carry_yd,side_yd\n")
	for ball := range 8 {
		fmt.Fprintf(&b, "old,full,%d,%d\n", 150+ball%3, ball-4)
	}
	for ball := range 5 {
		fmt.Fprintf(&b, "new,full,%d,%d\n", 112+ball%2, ball-2)
	}
	file := filepath.Join(t.TempDir(), "shots.csv")
	if err := os.WriteFile(file, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	r, err := Open(Source{File: file})
	if err != nil {
		t.Fatal(err)
	}
	walls, err := r.Walls()
	if err != nil || len(walls) != 1 || walls[0].Wall != nil || !strings.Contains(walls[0].Says, "no wall") {
		t.Errorf("%+v, %v", walls, err)
	}
}
