package main

import (
	"context"
	"database/sql"
	"fmt"
	"path/filepath"
	"strings"

	_ "github.com/duckdb/duckdb-go/v2"

	"github.com/landfall-golf/landfall/dispersion/archive"
)

// A duck is a DuckDB whose view shots is the archive's files.
type duck struct{ db *sql.DB }

func openDuck(dir string) (*duck, error) {
	db, err := sql.Open("duckdb", "")
	if err != nil {
		return nil, err
	}
	pattern := strings.ReplaceAll(filepath.Join(dir, "*", "*.parquet"), "'", "''")
	if _, err := db.Exec("CREATE VIEW shots AS SELECT * FROM read_parquet('" + pattern + "')"); err != nil {
		return nil, err
	}
	return &duck{db}, nil
}

func (d *duck) Close() error { return d.db.Close() }

// ask runs a query and reads its rows.
func (d *duck) ask(ctx context.Context, text string) error {
	rows, err := d.db.QueryContext(ctx, text)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
	}
	return rows.Err()
}

// A question is put to both. Where the answer has a row for every group, DuckDB
// is asked for a sum over the groups, so that handing rows to Go is not timed.
type question struct {
	name string
	sql  string
	ours func(context.Context, *archive.Archive) error
}

const recorded = `count(*) AS n, avg(side) AS x, avg(carry) AS y, var_samp(side) AS xx, covar_samp(side, carry) AS xy, var_samp(carry) AS yy`

const pupilSums = `SELECT pupil, unit, club, count(*) AS n,
	sum(CAST(side_tenths AS BIGINT)) AS side, sum(CAST(carry_tenths AS BIGINT)) AS carry,
	sum(CAST(side_tenths AS BIGINT) * side_tenths) AS side_side,
	sum(CAST(side_tenths AS BIGINT) * carry_tenths) AS side_carry,
	sum(CAST(carry_tenths AS BIGINT) * carry_tenths) AS carry_carry
	FROM shots WHERE void = '' AND NOT mishit GROUP BY pupil, unit, club ORDER BY pupil, unit, club`

var questions = []question{
	{
		"moments of every group (session, stage, club)",
		`SELECT count(*), sum(n), sum(x + y + xx + xy + yy) FROM (
			SELECT pupil, session, stage, club, ` + recorded + ` FROM shots WHERE void = '' GROUP BY pupil, session, stage, club)`,
		func(ctx context.Context, a *archive.Archive) error {
			for _, err := range a.Summaries(ctx, archive.Query{}) {
				if err != nil {
					return err
				}
			}
			return nil
		},
	},
	{
		"moments of every pupil and club",
		`SELECT pupil, unit, club, ` + recorded + ` FROM shots WHERE void = '' GROUP BY pupil, unit, club`,
		totals,
	},
	{"whole sums of every pupil and club", pupilSums, totals},
	{
		"moments of one pupil",
		`SELECT unit, club, ` + recorded + ` FROM shots WHERE void = '' AND pupil = 'pupil 7' GROUP BY unit, club`,
		func(ctx context.Context, a *archive.Archive) error {
			for _, err := range a.Totals(ctx, archive.Query{Pupil: "pupil 7"}) {
				if err != nil {
					return err
				}
			}
			return nil
		},
	},
}

func totals(ctx context.Context, a *archive.Archive) error {
	for _, err := range a.Totals(ctx, archive.Query{}) {
		if err != nil {
			return err
		}
	}
	return nil
}

// compareSums fails unless both have the same whole sums for every pupil and
// club.
func compareSums(ctx context.Context, a *archive.Archive, d *duck) error {
	type key struct{ pupil, unit, club string }
	want := map[key]archive.Sums{}
	for t, err := range a.Totals(ctx, archive.Query{}) {
		if err != nil {
			return err
		}
		want[key{t.Pupil, string(t.Unit), t.Club}] = t.Clean.Sums
	}
	rows, err := d.db.QueryContext(ctx, `SELECT pupil, unit, club, n, CAST(side AS BIGINT), CAST(carry AS BIGINT),
		CAST(side_side AS BIGINT), CAST(side_carry AS BIGINT), CAST(carry_carry AS BIGINT) FROM (`+pupilSums+`)`)
	if err != nil {
		return err
	}
	defer rows.Close()
	n := 0
	for ; rows.Next(); n++ {
		var k key
		var s archive.Sums
		if err := rows.Scan(&k.pupil, &k.unit, &k.club, &s.N, &s.Side, &s.Carry, &s.SideSide, &s.SideCarry, &s.CarryCarry); err != nil {
			return err
		}
		if s != want[k] {
			return fmt.Errorf("%v: DuckDB has %+v, the archive %+v", k, s, want[k])
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	if n != len(want) {
		return fmt.Errorf("DuckDB has %d pupils and clubs, the archive %d", n, len(want))
	}
	fmt.Printf("\nwhole sums of %d pupils and clubs: the same in both\n", n)
	return nil
}
