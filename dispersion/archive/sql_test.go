package archive_test

import (
	"database/sql"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	_ "modernc.org/sqlite"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// sqlOfThePage returns the statements of docs/sql.md.
func sqlOfThePage(t *testing.T) (create, each, together string) {
	t.Helper()
	page, err := os.ReadFile("../../docs/sql.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?s)```sql\n(.*?)```").FindAllStringSubmatch(string(page), -1)
	if len(blocks) != 3 {
		t.Fatalf("docs/sql.md has %d statements, want 3", len(blocks))
	}
	return blocks[0][1], blocks[1][1], blocks[2][1]
}

// A shotOfFile is what the SQL needs of a row, read by the names of the columns
// as any tool reads Parquet.
type shotOfFile struct {
	Pupil       string `parquet:"pupil"`
	Session     string `parquet:"session"`
	Unit        string `parquet:"unit"`
	Stage       string `parquet:"stage"`
	Club        string `parquet:"club"`
	Void        string `parquet:"void"`
	Mishit      bool   `parquet:"mishit"`
	CarryTenths int32  `parquet:"carry_tenths"`
	SideTenths  int32  `parquet:"side_tenths"`
}

// sqlArchive returns an archive of which some sums are far beyond the whole
// numbers of a float64, and what Totals makes of it.
func sqlArchive(t *testing.T) (shots []shotOfFile, totals []archive.Total) {
	t.Helper()
	a, dir := filled(t, 4, 3, 50)
	rng := rand.New(rand.NewPCG(8, 8))
	far := &lesson.Lesson{Pupil: "O'Far \"x\"; DROP TABLE shots", Session: "far", Unit: lesson.Metres}
	for i := range 3000 {
		far.Shots = append(far.Shots, lesson.Shot{Line: i + 2, Ball: i + 1, Stage: "s", Intent: lesson.Full, Club: "D",
			Carry: 999_000 + float64(rng.IntN(10_000))/10, Side: float64(rng.IntN(20_000_000))/10 - 1e6})
	}
	far.Shots[5].Void = "a door"
	add(t, a, far)
	files, err := filepath.Glob(filepath.Join(dir, "*", "*.parquet"))
	if err != nil || len(files) != 13 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		rows, err := parquet.ReadFile[shotOfFile](f)
		if err != nil {
			t.Fatal(err)
		}
		shots = append(shots, rows...)
	}
	if totals, err = collect(a.Totals(background, archive.Query{})); err != nil {
		t.Fatal(err)
	}
	return shots, totals
}

type sumsKey struct{ pupil, unit, club string }

// holds compares the rows of the two queries with what Totals says, sums and
// moments alike.
func holds(t *testing.T, each, together [][]string, totals []archive.Total) {
	t.Helper()
	want, wantAll := map[sumsKey]archive.Sums{}, map[sumsKey]archive.Sums{}
	for _, total := range totals {
		want[sumsKey{total.Pupil, string(total.Unit), total.Club}] = total.Clean.Sums
		k := sumsKey{"", string(total.Unit), total.Club}
		sums := wantAll[k]
		if err := sums.Merge(total.Clean.Sums); err != nil {
			t.Fatal(err)
		}
		wantAll[k] = sums
	}
	if got := parsed(t, each, 3); !reflect.DeepEqual(got, want) {
		t.Errorf("each pupil and club:\n%v, want\n%v", got, want)
	}
	if got := parsed(t, together, 2); !reflect.DeepEqual(got, wantAll) {
		t.Errorf("pupils together:\n%v, want\n%v", got, wantAll)
	}
	beyond := false
	for k, s := range parsed(t, each, 3) {
		got, err := s.Moments()
		if err != nil {
			t.Fatal(err)
		}
		wanted, err := want[k].Moments()
		if err != nil || got != wanted {
			t.Errorf("%v: moments %+v, want %+v, %v", k, got, wanted, err)
		}
		beyond = beyond || s.CarryCarry > 1<<53
	}
	if !beyond {
		t.Error("no sum is beyond 2⁵³, so this test does not show whole numbers")
	}
}

// parsed reads rows of names followed by six sums.
func parsed(t *testing.T, rows [][]string, names int) map[sumsKey]archive.Sums {
	t.Helper()
	sums := map[sumsKey]archive.Sums{}
	for _, row := range rows {
		var v [6]int64
		for i := range v {
			var err error
			if v[i], err = strconv.ParseInt(row[names+i], 10, 64); err != nil {
				t.Fatal(err)
			}
		}
		k := sumsKey{unit: row[names-2], club: row[names-1]}
		if names == 3 {
			k.pupil = row[0]
		}
		sums[k] = archive.Sums{N: v[0], Side: v[1], Carry: v[2], SideSide: v[3], SideCarry: v[4], CarryCarry: v[5]}
	}
	return sums
}

// Source: SQLite in modernc.org/sqlite v1.62.0 adds up the same shots.
func TestSQLOnSQLite(t *testing.T) {
	create, each, together := sqlOfThePage(t)
	shots, totals := sqlArchive(t)
	db, err := sql.Open("sqlite", filepath.Join(t.TempDir(), "shots.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(create); err != nil {
		t.Fatal(err)
	}
	tx, err := db.Begin()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range shots {
		if _, err := tx.Exec("INSERT INTO shots VALUES (?,?,?,?,?,?,?,?,?)", s.Pupil, s.Session, s.Unit, s.Stage, s.Club, s.Void, s.Mishit, s.CarryTenths, s.SideTenths); err != nil {
			t.Fatal(err)
		}
	}
	if err := tx.Commit(); err != nil {
		t.Fatal(err)
	}
	one := query(t, db, each)
	if _, err := db.Exec("CREATE TABLE sums AS " + each); err != nil {
		t.Fatal(err)
	}
	holds(t, one, query(t, db, together), totals)
}

func query(t *testing.T, db *sql.DB, text string) (all [][]string) {
	t.Helper()
	rows, err := db.Query(text)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		t.Fatal(err)
	}
	for rows.Next() {
		row := make([]string, len(columns))
		into := make([]any, len(columns))
		for i := range row {
			into[i] = &row[i]
		}
		if err := rows.Scan(into...); err != nil {
			t.Fatal(err)
		}
		all = append(all, row)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return all
}

// postgresVariable names a running PostgreSQL, as a connection string of psql.
const postgresVariable = "LANDFALL_POSTGRES"

// Source: PostgreSQL adds up the same shots (15 from Debian 12 in CI).
func TestSQLOnPostgreSQL(t *testing.T) {
	server := os.Getenv(postgresVariable)
	if server == "" {
		t.Skipf("not compared with PostgreSQL: set %s to the connection string of a server, as CI does with .ci/postgres", postgresVariable)
	}
	create, each, together := sqlOfThePage(t)
	shots, totals := sqlArchive(t)
	var script strings.Builder
	script.WriteString("\\set ON_ERROR_STOP on\nBEGIN;\n" + create + "COPY shots FROM STDIN WITH (FORMAT csv);\n")
	rows := csv.NewWriter(&script)
	for _, s := range shots {
		if err := rows.Write([]string{s.Pupil, s.Session, s.Unit, s.Stage, s.Club, s.Void, fmt.Sprint(s.Mishit), fmt.Sprint(s.CarryTenths), fmt.Sprint(s.SideTenths)}); err != nil {
			t.Fatal(err)
		}
	}
	rows.Flush()
	// An empty text is quoted, since CSV has nothing else to tell it from NULL.
	loaded := strings.ReplaceAll(script.String(), ",,", `,"",`)
	between := "split here"
	out := psql(t, server, loaded+"\\.\n"+each+"\\echo "+between+"\nCREATE TABLE sums AS "+each+together+"ROLLBACK;\n")
	first, second, ok := strings.Cut(out, between+"\n")
	if !ok {
		t.Fatalf("psql printed %q", out)
	}
	holds(t, csvRows(t, first), csvRows(t, second), totals)
}

func psql(t *testing.T, server, script string) string {
	t.Helper()
	c := exec.Command("psql", "--no-psqlrc", "--quiet", "--csv", "--tuples-only", server)
	c.Stdin = strings.NewReader(script)
	var complaints strings.Builder
	c.Stderr = &complaints
	out, err := c.Output()
	if err != nil {
		t.Fatalf("psql: %v: %s", err, complaints.String())
	}
	return string(out)
}

func csvRows(t *testing.T, text string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}
