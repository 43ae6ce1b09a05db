package strokes

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// cardLesson writes and reads a lesson of the given stages.
func cardLesson(t testing.TB, rows ...string) *lesson.Lesson {
	t.Helper()
	l, err := lesson.Read(strings.NewReader("stage,intent,club,carry_yd,side_yd\n"+strings.Join(rows, "\n")), lesson.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func cardRows(stage, intent, club string, carries ...float64) string {
	var rows []string
	for _, c := range carries {
		rows = append(rows, fmt.Sprintf("%s,%s,%s,%g,0", stage, intent, club, c))
	}
	return strings.Join(rows, "\n")
}

func TestCardByHand(t *testing.T) {
	l := cardLesson(t,
		cardRows("first", "baseline", "7 iron", 100, 101, 102),
		cardRows("turn", "drill", "7 iron", 60, 61, 62),
		cardRows("new", "full", "7 iron", 131, 132, 133, 134, 135, 136, 137, 138, 139, 90),
		cardRows("new", "full", "6 iron", 143, 133.5, 139, 142, 141, 145, 144, 146, 140, 148, 147),
		cardRows("new", "full", "driver", 200, 204, 190),
	)
	card, err := NewCard(l)
	if err != nil {
		t.Fatal(err)
	}
	if len(card.Clubs) != 3 || card.Clubs[0].Club != "7 iron" || card.Clubs[1].Club != "6 iron" || card.Clubs[2].Club != "driver" || card.Unit != lesson.Yards {
		t.Fatalf("%+v", card)
	}
	seven, six, driver := card.Clubs[0], card.Clubs[1], card.Clubs[2]
	if seven.Shots != 10 || seven.Mishits != 1 || seven.Clean() != 9 || seven.Stage != "new" || seven.MishitShare() != 0.1 {
		t.Errorf("%+v", seven)
	}
	near(t, "median", seven.Carry, 135, 0)
	// Ranks 1 and 9 of nine; 1.2 and 10.8 of eleven.
	near(t, "from", seven.EightOfTen.Low, 131, 1e-12)
	near(t, "to", seven.EightOfTen.High, 139, 1e-12)
	near(t, "from", six.EightOfTen.Low, 133.5+0.2*5.5, 1e-9)
	near(t, "to", six.EightOfTen.High, 147+0.8*1, 1e-9)
	near(t, "gap", seven.Next.Gap, 143-135, 1e-12)
	// 133.5 is below 134 … 139, six of nine; 139 ties with one.
	near(t, "overlap", seven.Next.Overlap, (6+0.5)/99, 1e-12)
	if seven.Next.Club != "6 iron" || six.Next != nil || driver.EightOfTen != nil || driver.Next != nil || driver.TooFew() != 6 || six.TooFew() != 0 {
		t.Errorf("too few to say, and said: %+v, %+v", six.Next, driver)
	}
	if _, err := NewCard(nil); !errors.Is(err, ErrMissing) {
		t.Errorf("no lesson: %v", err)
	}
	if _, err := NewCard(cardLesson(t, cardRows("turn", "drill", "7 iron", 60, 61, 62))); !errors.Is(err, ErrMissing) {
		t.Errorf("drills only: %v", err)
	}
}

// Whatever the law, the range holds 8 of 10 of the shots to come on average: that
// is a theorem where (n+1)/10 is whole, and nearly so between two ranks. 2,000
// groups of exponential and of uniform carries, whose share is known.
func TestEightOfTenHoldsEightOfTen(t *testing.T) {
	r := rand.New(resample.NewStream(13, "card", 0))
	for _, law := range []struct {
		name        string
		draw, below func(float64) float64
	}{
		{"exponential", func(u float64) float64 { return -math.Log1p(-u) }, func(x float64) float64 { return -math.Expm1(-x) }},
		{"uniform", func(u float64) float64 { return u }, func(x float64) float64 { return x }},
	} {
		for _, n := range []int{9, 11, 14, 19, 30} {
			const groups = 2000
			var sum, squares float64
			for range groups {
				x := make([]float64, n)
				for i := range x {
					x[i] = law.draw(r.Float64())
				}
				slices.Sort(x)
				share := law.below(ranked(x, 0.9)) - law.below(ranked(x, 0.1))
				sum, squares = sum+share, squares+share*share
			}
			mean := sum / groups
			tolerance := 4 * math.Sqrt((squares/groups-mean*mean)/groups)
			if (n+1)%10 != 0 {
				tolerance += 0.02
			}
			near(t, fmt.Sprintf("%s, n = %d", law.name, n), mean, 0.8, tolerance)
		}
	}
}
