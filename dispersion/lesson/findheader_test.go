package lesson

import (
	"bytes"
	"compress/gzip"
	"errors"
	"strings"
	"testing"
)

func packedZeros(t *testing.T, n int) string {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, err := w.Write(make([]byte, n))
	if err = errors.Join(err, w.Close()); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTitlesAboveTheHeader(t *testing.T) {
	title := func(n int) string { return strings.Repeat("a title, of sorts \"\n", n) }
	l := mustRead(t, title(maxTitleLines)+lines("150,1", "x,2"), ReadOptions{})
	if points(l) != "52:150/1" || l.Rejected[0].Line != 53 || len(l.Warnings) != 1 || !errors.Is(l.Warnings[0], ErrTitle) {
		t.Errorf("%s, rejected %v, warnings %v", points(l), l.Rejected, l.Warnings)
	}
	var h *HeaderError
	for _, file := range []string{title(maxTitleLines+1) + lines("150,1"), "a title\ncarry_yd,total_yd\n1,2\n", title(3)} {
		if _, err := Read(strings.NewReader(file), ReadOptions{}); !errors.As(err, &h) {
			t.Errorf("%.60q: got %v", file, err)
		}
	}
	// The first line wins where it is a header, whatever follows.
	l = mustRead(t, lines("150,1")+lines("151,2"), ReadOptions{})
	if points(l) != "2:150/1 4:151/2" || len(l.Rejected) != 1 || len(l.Warnings) != 0 {
		t.Errorf("%s, rejected %v, warnings %v", points(l), l.Rejected, l.Warnings)
	}
}

func TestUnitsRow(t *testing.T) {
	for _, tt := range []struct {
		name, file, points string
		unit               Unit
		columns            string
	}{
		{"plain", "apex,carry,side\nft,m,m\n80,150,1\n", "3:150/1", Metres, "apex_ft"},
		{"the header's too", "apex_ft,carry_m,side\n,m,m\n80,150,1\n", "3:150/1", Metres, "apex_ft"},
		{"dashes, and units that none of ours has", "tempo,carry,side\n%,(yd),-\n80,150,1\n", "3:150/1", Yards, "tempo_pct"},
		{"below a blank line", "apex,carry,side\n\nft,[m],[m]\n80,150,1\n", "4:150/1", Metres, "apex_ft"},
	} {
		l := mustRead(t, tt.file, ReadOptions{})
		if points(l) != tt.points || l.Unit != tt.unit || l.Columns[0].Name != tt.columns || l.Shots[0].Ball != 1 || l.Rows != 1 || !errors.Is(errors.Join(l.Warnings...), ErrUnit) {
			t.Errorf("%s: %s in %s, columns %v, warnings %v", tt.name, points(l), l.Unit, l.Columns, l.Warnings)
		}
	}
	// A row with anything else is a ball, and one without the units of carry or
	// side is too.
	for _, row := range []string{"x,yd,yd", "5,yd,yd", "m,,", ",,"} {
		l := mustRead(t, "stage,carry_yd,side_yd\n"+row+"\na,150,1\n", ReadOptions{})
		if l.Rows != 2 || len(l.Rejected) != 1 {
			t.Errorf("%q: %d rows, rejected %v", row, l.Rows, l.Rejected)
		}
	}
}

// A column of one name mixes nothing; one of several does, whether its header
// says what they are or they show it themselves.
func TestDoubtNames(t *testing.T) {
	file := func(header, a, b string) string {
		return header + ",carry_yd,side_yd\n" + a + ",150,1\n" + b + ",151,2\n"
	}
	var h *HeaderError
	for _, text := range []string{file("Player", "Mira", "Tom"), file("Schläger", "a", "b"), file("Palo", "7", "9"), file("Tool", "7 iron", "PW"), file("X", "Eisen 7", "fer 9"), file("X", "56°", "52°")} {
		if _, err := Read(strings.NewReader(text), ReadOptions{}); !errors.As(err, &h) || !strings.Contains(err.Error(), "would all be taken for one") {
			t.Errorf("%q: got %v", text, err)
		}
	}
	for text, warned := range map[string]bool{
		file("Player", "Mira", "Mira"): true, file("Tool", "7i", "7i"): true, file("Tool", "hammer", "tongs"): false, file("club", "7i", "PW"): false,
		file("note", "7i", "PW"): false, file("tempo", "7", "9"): false,
	} {
		l := mustRead(t, text, ReadOptions{})
		if got := errors.Is(errors.Join(l.Warnings...), ErrColumn); got != warned {
			t.Errorf("%q: warnings %v", text, l.Warnings)
		}
	}
}

// cue and void may stand in the file itself.
func TestCueAndVoidColumns(t *testing.T) {
	file := "stage,cue,void,carry_yd,side_yd\na,turn,,150,1\na,,no,151,2\n,,fell,152,3\na,other,Yes,153,4\n"
	l := mustRead(t, file, ReadOptions{})
	if l.Stages[0].Cue != "turn" || len(l.Stages) != 1 || l.Shots[1].Void != "" || l.Shots[2].Void != "fell" || l.Shots[2].Stage != "" || l.Shots[3].Void != "Yes" || len(l.Warnings) != 0 {
		t.Errorf("stages %+v, shots %+v, warnings %v", l.Stages, l.Shots, l.Warnings)
	}
	l = mustRead(t, file, ReadOptions{StagesFile: strings.NewReader("from,to,void,why\n3,3,yes,slipped\n")})
	if l.Shots[2].Void != "slipped" || l.Shots[3].Void != "Yes" {
		t.Errorf("the mark-up does not go first: %+v", l.Shots)
	}
}
