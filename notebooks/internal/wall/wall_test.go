package wall

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/notebooks/review"
)

const header = "stage,intent,club,carry_yd,side_yd\n"

// row is ball i of an invented lesson: the old swing, then the new.
func row(i int) string {
	stage := "old swing,baseline"
	carry := 148.0
	if i >= 20 {
		stage, carry = "new swing,full", 156
	}
	r := rand.New(rand.NewPCG(7, uint64(i)))
	return fmt.Sprintf("%s,7i,%.1f,%.1f\n", stage, carry+5*r.NormFloat64(), 6*r.NormFloat64())
}

func rows(n int) string {
	var b strings.Builder
	b.WriteString(header)
	for i := range n {
		b.WriteString(row(i))
	}
	return b.String()
}

func write(t *testing.T, path, content string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

// at returns a time so many milliseconds after the start of a test.
func at(ms int) time.Time {
	return time.Date(2026, 3, 14, 10, 0, 0, 0, time.UTC).Add(time.Duration(ms) * time.Millisecond)
}

func follow(t *testing.T) (*follower, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "lesson.csv")
	f, err := newFollower(review.Source{File: path})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.close(); err != nil {
			t.Error(err)
		}
	})
	return f, path
}

// What a device may do to its file, and what is shown then.
func TestLooks(t *testing.T) {
	f, path := follow(t)
	gone := func(string) { _ = os.Remove(path) }
	put := func(content string) { write(t, path, content) }
	for _, step := range []struct {
		name    string
		ms      int
		write   func(string)
		content string
		balls   int
		changed bool
		trouble string
	}{
		{"no file yet", 0, nil, "", 0, false, ""},
		{"half a header", 200, put, "stage,intent,club,car", 0, false, ""},
		{"a header", 400, put, header, 0, false, ""},
		{"six balls", 600, put, rows(6), 6, true, ""},
		{"nothing new", 800, nil, "", 6, false, ""},
		{"half a row", 1000, put, rows(6) + "old swing,baseline,7i,15", 6, false, ""},
		{"the whole row", 1200, put, rows(6) + "old swing,baseline,7i,150,2\n", 7, true, ""},
		{"a row without its line end", 1400, put, rows(6) + "old swing,baseline,7i,150,2\nold swing,baseline,7i,149,1", 7, false, ""},
		{"it stays so", 2500, nil, "", 8, true, ""},
		{"truncated to begin anew", 2700, put, "", 8, false, ""},
		{"half of it anew", 2900, put, rows(3), 8, false, ""},
		{"all of it anew", 3100, put, rows(9), 8, false, ""},
		{"settled", 4200, nil, "", 9, true, ""},
		{"another, shorter file", 4400, put, rows(4), 9, false, ""},
		{"it stays so", 5500, nil, "", 4, true, ""},
		{"no lesson at all", 5700, put, "a,b\n1,2\n", 4, false, ""},
		{"and it stays", 6800, nil, "", 4, true, "carry"},
		{"a lesson again", 7000, put, rows(5), 4, false, "carry"},
		{"settled", 8200, nil, "", 5, true, ""},
		{"gone", 8400, gone, "", 5, false, ""},
		{"gone for good", 9500, nil, "", 0, true, ""},
	} {
		if step.write != nil {
			step.write(step.content)
		}
		view, changed := f.look(t.Context(), at(step.ms))
		if view.Balls != step.balls || changed != step.changed {
			t.Errorf("%s: %d balls, changed %v; want %d, %v", step.name, view.Balls, changed, step.balls, step.changed)
		}
		if (step.trouble == "") != (view.Trouble == "") || !strings.Contains(view.Trouble, step.trouble) {
			t.Errorf("%s: trouble %q, want %q", step.name, view.Trouble, step.trouble)
		}
	}
}

// The marks beside the lesson count as soon as they are there.
func TestMarksBesideTheLesson(t *testing.T) {
	f, path := follow(t)
	write(t, path, "carry_yd,side_yd\n150,1\n152,2\n149,0\n160,1\n")
	if v, _ := f.look(t.Context(), at(0)); !strings.Contains(v.Says, "4 balls") {
		t.Errorf("without marks: %q", v.Says)
	}
	write(t, filepath.Join(filepath.Dir(path), review.StagesFile), "from,to,stage,intent\n1,3,old swing,baseline\n4,4,new swing,full\n")
	v, changed := f.look(t.Context(), at(200))
	if !changed || !strings.Contains(v.Says, "“new swing”, 1 ball") || v.SVG == nil {
		t.Errorf("with marks: %v, %q, trouble %q", changed, v.Says, v.Trouble)
	}
}

func TestSnapshotRefuses(t *testing.T) {
	folder := t.TempDir()
	if _, err := snapshot(folder); err == nil || !strings.Contains(err.Error(), "is a folder") {
		t.Error(err)
	}
	big := filepath.Join(folder, "big.csv")
	write(t, big, "")
	if err := os.Truncate(big, largest+1); err != nil {
		t.Fatal(err)
	}
	if _, err := snapshot(big); err == nil || !strings.Contains(err.Error(), "at most 64") {
		t.Error(err)
	}
	if content, err := snapshot(filepath.Join(folder, "none.csv")); content != nil || err != nil {
		t.Error(content, err)
	}
	if err := Watch(t.Context(), review.Source{}, nil); err == nil || !strings.Contains(err.Error(), "takes a file") {
		t.Error(err)
	}
}

// watch serves a file and returns the address; it ends with the test.
func watch(t *testing.T, path string) string {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	address := make(chan string, 1)
	ended := make(chan error, 1)
	go func() { ended <- Watch(ctx, review.Source{File: path}, func(a string) { address <- a }) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	select {
	case a := <-address:
		return a
	case err := <-ended:
		ended <- err
		t.Fatal(err)
	}
	return ""
}

// A program writes 300 rows as devices do: one after the other, in halves, and
// now and then the whole file anew or another in its place. Every view is one of
// the file's states, none goes back, and a row is seen within two seconds.
func TestWatchADevice(t *testing.T) {
	const total = 300
	path := filepath.Join(t.TempDir(), "lesson.csv")
	address := watch(t, path)

	var mu sync.Mutex
	written := make([]time.Time, total+1) // when row n was whole
	device := func() error {
		r := rand.New(rand.NewPCG(1, 1))
		f, err := os.Create(path)
		if err != nil {
			return err
		}
		defer func() { _ = f.Close() }()
		_, err = f.WriteString(header)
		for n := 1; n <= total && err == nil; n++ {
			text := row(n - 1)
			switch k := r.IntN(20); {
			case k < 10:
				_, err = f.WriteString(text)
			case k < 17: // in two halves
				cut := r.IntN(len(text))
				if _, err = f.WriteString(text[:cut]); err == nil {
					time.Sleep(time.Duration(r.IntN(30)) * time.Millisecond)
					_, err = f.WriteString(text[cut:])
				}
			case k < 19: // all of it anew, in pieces
				all := rows(n)
				if err = f.Truncate(0); err == nil {
					if _, err = f.WriteAt([]byte(all[:len(all)/2]), 0); err == nil {
						time.Sleep(5 * time.Millisecond)
						_, err = f.WriteAt([]byte(all), 0)
					}
				}
				if err == nil {
					_, err = f.Seek(0, 2)
				}
			default: // another file in its place
				aside := path + ".new"
				if err = os.WriteFile(aside, []byte(rows(n)), 0o644); err == nil {
					err = os.Rename(aside, path)
				}
				if err == nil {
					_ = f.Close()
					f, err = os.OpenFile(path, os.O_WRONLY, 0)
				}
				if err == nil {
					_, err = f.Seek(0, 2)
				}
			}
			mu.Lock()
			written[n] = time.Now()
			mu.Unlock()
			time.Sleep(time.Duration(5+r.IntN(15)) * time.Millisecond)
		}
		return err
	}
	driven := make(chan error, 1)
	go func() { driven <- device() }()

	ctx, stop := context.WithTimeout(t.Context(), 2*time.Minute)
	defer stop()
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, address+"views", nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	reader, err := newFollower(review.Source{File: path})
	if err != nil {
		t.Fatal(err)
	}
	defer reader.close()

	shown, views, slowest := 0, 0, time.Duration(0)
	lines := bufio.NewReader(answer.Body)
	for shown < total {
		line, err := lines.ReadString('\n')
		if err != nil {
			t.Fatalf("after %d balls: %v", shown, err)
		}
		data, ok := strings.CutPrefix(line, "data: ")
		if !ok {
			continue
		}
		now := time.Now()
		var e event
		if err := json.Unmarshal([]byte(data), &e); err != nil {
			t.Fatal(err)
		}
		if e.Trouble != "" {
			t.Errorf("trouble after %d balls: %s", e.Balls, e.Trouble)
		}
		if e.Balls == 0 {
			continue
		}
		if e.Balls < shown {
			t.Errorf("%d balls after %d", e.Balls, shown)
		}
		want, err := reader.draw(ctx, []byte(rows(e.Balls)), nil)
		if err != nil {
			t.Fatal(err)
		}
		if e != want.event() {
			t.Errorf("with %d balls the wall says %q, the file %q", e.Balls, e.Says, want.Says)
		}
		mu.Lock()
		for n := shown + 1; n <= e.Balls; n++ {
			if !written[n].IsZero() {
				slowest = max(slowest, now.Sub(written[n]))
			}
		}
		mu.Unlock()
		shown = max(shown, e.Balls)
		views++
	}
	if err := <-driven; err != nil {
		t.Fatal(err)
	}
	t.Logf("%d views of %d rows; a row was seen after %v at the latest", views, total, slowest.Round(time.Millisecond))
	if slowest > 2*time.Second {
		t.Errorf("a row was seen after %v", slowest)
	}
	if views < 10 {
		t.Errorf("%d views", views)
	}
}

// The view is for this machine's own browser: no other name, no other origin, no
// other method.
func TestForThisMachineAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lesson.csv")
	write(t, path, rows(6))
	address := watch(t, path)
	if !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatal(address)
	}
	for _, c := range []struct {
		name, method, path string
		host               string
		header             map[string]string
		want               int
	}{
		{"the page", "GET", "", "", nil, 200},
		{"the script", "GET", "wall.js", "", map[string]string{"Sec-Fetch-Site": "same-origin"}, 200},
		{"another name", "GET", "", "attacker.example", nil, 403},
		{"another port's name", "GET", "", "127.0.0.1:1", nil, 403},
		{"another origin", "GET", "views", "", map[string]string{"Origin": "http://attacker.example"}, 403},
		{"no origin", "GET", "views", "", map[string]string{"Origin": "null"}, 403},
		{"another site", "GET", "views", "", map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		{"another port of this machine", "GET", "views", "", map[string]string{"Sec-Fetch-Site": "same-site"}, 403},
		{"another method", "POST", "", "", nil, 405},
		{"another path", "GET", "lesson.csv", "", nil, 404},
		{"a path upward", "GET", "../../etc/passwd", "", nil, 404},
	} {
		request, err := http.NewRequestWithContext(t.Context(), c.method, address+c.path, nil)
		if err != nil {
			t.Fatal(err)
		}
		if c.host != "" {
			request.Host = c.host
		}
		for k, v := range c.header {
			request.Header.Set(k, v)
		}
		answer, err := http.DefaultTransport.RoundTrip(request)
		if err != nil {
			t.Fatal(err)
		}
		_ = answer.Body.Close()
		if answer.StatusCode != c.want {
			t.Errorf("%s: %d, want %d", c.name, answer.StatusCode, c.want)
		}
		h := answer.Header
		if h.Get("Cross-Origin-Resource-Policy") != "same-origin" || !strings.Contains(h.Get("Content-Security-Policy"), "default-src 'none'") || h.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s: headers %v", c.name, h)
		}
	}
}

// Names from the file stay text: the page's script never makes markup, and a
// view holds none.
func TestHostileNamesStayText(t *testing.T) {
	for _, bad := range []string{"innerHTML", "insertAdjacentHTML", "eval(", "document.write", "new Function"} {
		if bytes.Contains(wallScript, []byte(bad)) {
			t.Errorf("the script uses %s", bad)
		}
	}
	f, path := follow(t)
	write(t, path, header+"<img src=x onerror=alert(1)>\u202e,full,7i,150,1\n<img src=x onerror=alert(1)>\u202e,full,7i,152,1\n")
	v, _ := f.look(t.Context(), at(0))
	e := v.event()
	if v.SVG == nil || bytes.Contains(v.SVG, []byte("<img")) || strings.Contains(e.Says+e.Alt, "\u202e") {
		t.Errorf("says %q, alt %q", e.Says, e.Alt)
	}
}

// A mapping beside the lesson counts here as in the review.
func TestWallReadsOtherColumns(t *testing.T) {
	f, path := follow(t)
	write(t, path, "Flugweite,Seite\n150,1\n152,-2\n149,3\n")
	write(t, filepath.Join(filepath.Dir(path), review.ColumnsFile),
		`{"fields":[{"name":"Flugweite","measure":"carry","unit":"m"},{"name":"Seite","measure":"side","unit":"m"}]}`)
	rows, marks, err := f.read(at(0))
	if err != nil {
		t.Fatal(err)
	}
	if rows == nil {
		if rows, marks, err = f.read(at(5000)); err != nil {
			t.Fatal(err)
		}
	}
	v, err := f.draw(context.Background(), rows, marks)
	if err != nil || v.Balls != 3 || !strings.Contains(v.Says, "150 m") {
		t.Errorf("got %+v, %v", v.Says, err)
	}
}

// A descriptor says what a file holds; what is followed is the file.
func TestWatchTakesTheFileItself(t *testing.T) {
	for file, says := range map[string]string{"": "takes a file", "lesson/datapackage.json": "give the CSV"} {
		err := Watch(t.Context(), review.Source{File: file}, func(string) { t.Errorf("%q is watched", file) })
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", file, err)
		}
	}
}
