package practice

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base32"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
)

// Pseudonym returns what stands for a name in a pooled file: the first 80 bits of
// HMAC-SHA-256 of the role and the name, blanks around it dropped, in sixteen
// letters and digits. The same key and name give the same pseudonym, so that a
// pupil's turns stay together; without the key nobody can find the name by trying
// all names, and whoever has the key can: such a file is pseudonymous and not
// anonymous, and still personal data for the one with the key.
//
// Errors: [ErrKey] for a key below 16 bytes.
//
// Reference: H. Krawczyk, M. Bellare, R. Canetti, "HMAC: Keyed-Hashing for Message
// Authentication", RFC 2104, 1997; base32 of RFC 4648, 2006.
func Pseudonym(key []byte, role, name string) (string, error) {
	if len(key) < 16 {
		return "", fmt.Errorf("practice: a key of %d bytes: %w", len(key), ErrKey)
	}
	h := hmac.New(sha256.New, key)
	h.Write([]byte(role + "\x00" + strings.TrimSpace(name)))
	return strings.ToLower(base32.StdEncoding.EncodeToString(h.Sum(nil)[:10])), nil
}

// pseudonym is what a pseudonym looks like.
const pseudonym = "[a-z2-7]{16}"

var pseudonymous = regexp.MustCompile("^" + pseudonym + "$")

// poolColumns are the columns of a pooled file but carry and side, whose names end
// in the unit.
var poolColumns = []string{"pupil", "teacher", "period", "drill", "schedule", "test", "ball"}

func (p StudyPlan) poolHeader() []string {
	return append(slices.Clone(poolColumns), "carry_"+string(p.Unit), "side_"+string(p.Unit))
}

// PoolSchema returns the Table Schema of the pooled file, as JSON.
//
// Reference: Data Package standard, version 2.0, Table Schema,
// https://datapackage.org/standard/table-schema/.
func (p StudyPlan) PoolSchema() ([]byte, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	type field struct {
		Name        string         `json:"name"`
		Type        string         `json:"type"`
		Description string         `json:"description"`
		Unit        string         `json:"unit,omitempty"`
		Constraints map[string]any `json:"constraints"`
	}
	required := func(more ...any) map[string]any {
		c := map[string]any{"required": true}
		for i := 0; i+1 < len(more); i += 2 {
			c[more[i].(string)] = more[i+1]
		}
		return c
	}
	unit := string(p.Unit)
	return json.MarshalIndent(struct {
		Schema     string   `json:"$schema"`
		Fields     []field  `json:"fields"`
		PrimaryKey []string `json:"primaryKey"`
	}{
		"https://datapackage.org/profiles/2.0/tableschema.json",
		[]field{
			{"pupil", "string", "Pseudonym of the pupil, a keyed hash", "", required("pattern", pseudonym)},
			{"teacher", "string", "Pseudonym of the teacher, a keyed hash", "", required("pattern", pseudonym)},
			{"period", "integer", "First or second drill of this pupil", "", required("enum", []int{1, 2})},
			{"drill", "string", "Which drill", "", required("enum", p.Drills)},
			{"schedule", "string", "In which order the balls of the drill were hit", "", required("enum", schedules)},
			{"test", "string", "Test before the drill, or after it on a later day", "", required("enum", []string{"before", "after"})},
			{"ball", "integer", "1, 2, … in the order hit in this test", "", required("minimum", 1)},
			{"carry_" + unit, "number", "Distance along the target line to where the ball first lands", unit, required("minimum", 0)},
			{"side_" + unit, "number", "Distance from the target line, right positive", unit, required()},
		},
		[]string{"pupil", "period", "test", "ball"},
	}, "", " ")
}

// WritePool writes the balls of a study under pseudonyms, for others to add theirs
// and to analyse. It has no names, no dates, no places and no free text, and its
// order follows the pseudonyms, so that the order of enrolment isn't in it either.
//
// Errors: [ErrStudy]; [ErrKey]; *[RowError], its row counting trials from 1, for
// trials that the plan does not allow; errors of the writer.
func WritePool(w io.Writer, p StudyPlan, key []byte, trials []Trial) error {
	if err := p.check(); err != nil {
		return err
	}
	r := CrossoverResult{Plan: p}
	if _, err := r.model(trials); err != nil {
		return err
	}
	trials = slices.Clone(trials)
	for i := range trials {
		t := &trials[i]
		var err error
		if t.Pupil, err = Pseudonym(key, "pupil", t.Pupil); err != nil {
			return err
		}
		if t.Teacher, err = Pseudonym(key, "teacher", t.Teacher); err != nil {
			return err
		}
	}
	slices.SortStableFunc(trials, func(a, b Trial) int {
		if c := strings.Compare(a.Pupil, b.Pupil); c != 0 {
			return c
		}
		return a.Period - b.Period
	})
	c := csv.NewWriter(w)
	if err := c.Write(p.poolHeader()); err != nil {
		return err
	}
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	for _, t := range trials {
		for i, balls := range [][]dispersion.Point{t.Before, t.After} {
			for j, b := range balls {
				row := []string{t.Pupil, t.Teacher, strconv.Itoa(t.Period), t.Drill, t.Schedule, []string{"before", "after"}[i], strconv.Itoa(j + 1), number(b.Y), number(b.X)}
				if err := c.Write(row); err != nil {
					return err
				}
			}
		}
	}
	c.Flush()
	return c.Error()
}

// ReadPool returns the trials of a pooled file, in the order first met: of one study,
// or of several joined under one header.
//
// Errors: [ErrStudy]; *[RowError] for a header or a row that is not as
// [StudyPlan.PoolSchema] says; errors of the reader.
func ReadPool(r io.Reader, p StudyPlan) ([]Trial, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	c := csv.NewReader(r)
	header := p.poolHeader()
	first, err := c.Read()
	if err == io.EOF || err == nil && !slices.Equal(first, header) {
		return nil, fmt.Errorf("practice: pooled file: %w", &RowError{1, "", "the header must be " + strings.Join(header, ",")})
	}
	if err != nil {
		return nil, poolError(err, 1)
	}
	var trials []Trial
	index := map[string]int{}
	for line := 2; ; line++ {
		row, err := c.Read()
		if err == io.EOF {
			return trials, nil
		}
		if err != nil {
			return nil, poolError(err, line)
		}
		if err := p.addPoolRow(&trials, index, row, header, line); err != nil {
			return nil, err
		}
	}
}

func poolError(err error, line int) error {
	if parse := (*csv.ParseError)(nil); errors.As(err, &parse) {
		return fmt.Errorf("practice: pooled file: %w", &RowError{line, "", parse.Err.Error()})
	}
	return fmt.Errorf("practice: pooled file: %w", err)
}

// addPoolRow puts one ball where it belongs.
func (p StudyPlan) addPoolRow(trials *[]Trial, index map[string]int, row, header []string, line int) error {
	bad := func(column int, reason string) error {
		return fmt.Errorf("practice: pooled file: %w", &RowError{line, header[column], fmt.Sprintf("%q %s", row[column], reason)})
	}
	for column, name := range row[:2] {
		if !pseudonymous.MatchString(name) {
			return bad(column, "is no pseudonym of sixteen letters and digits, as WritePool gives them: a pooled file must not hold names")
		}
	}
	period, err := strconv.Atoi(row[2])
	if err != nil || period != 1 && period != 2 {
		return bad(2, "is neither 1 nor 2")
	}
	if !slices.Contains(p.Drills[:], row[3]) {
		return bad(3, "is none of the study's drills")
	}
	if !slices.Contains(schedules[:], row[4]) {
		return bad(4, "is neither "+strings.Join(schedules[:], " nor "))
	}
	if row[5] != "before" && row[5] != "after" {
		return bad(5, "is neither before nor after")
	}
	ball, err := strconv.Atoi(row[6])
	if err != nil {
		return bad(6, "is no whole number")
	}
	carry, err := strconv.ParseFloat(row[7], 64)
	if err != nil || !(carry >= 0 && carry <= 1e6) {
		return bad(7, "is no carry")
	}
	side, err := strconv.ParseFloat(row[8], 64)
	if err != nil || !(side >= -1e6 && side <= 1e6) {
		return bad(8, "is no number for a side")
	}
	key := strings.Join(row[:5], "\x00")
	k, ok := index[key]
	if !ok {
		k = len(*trials)
		index[key] = k
		*trials = append(*trials, Trial{Pupil: row[0], Teacher: row[1], Period: period, Drill: row[3], Schedule: row[4]})
	}
	t := &(*trials)[k]
	balls := &t.Before
	if row[5] == "after" {
		balls = &t.After
	}
	if ball != len(*balls)+1 {
		return bad(6, fmt.Sprintf("comes where ball %d should: in each test the balls are numbered from 1 on, in order, none twice", len(*balls)+1))
	}
	*balls = append(*balls, dispersion.Point{X: side, Y: carry})
	return nil
}

// AnalysePool is the whole analysis of a study in one call: [ReadPool], then
// [Crossover].
func AnalysePool(r io.Reader, p StudyPlan, o FitOptions) (CrossoverResult, error) {
	trials, err := ReadPool(r, p)
	if err != nil {
		return CrossoverResult{}, err
	}
	return Crossover(p, trials, o)
}
