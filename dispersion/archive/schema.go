package archive

import "github.com/parquet-go/parquet-go"

// A shotRow is one row of a session's file, as docs/archive.md describes it. It
// gives the schema; rows are written and read column by column.
type shotRow struct {
	Pupil       string             `parquet:"pupil,dict"`
	Session     string             `parquet:"session,dict"`
	Day         int32              `parquet:"day,optional,date,dict"`
	Unit        string             `parquet:"unit,dict"`
	Line        int32              `parquet:"line,delta"`
	Ball        int32              `parquet:"ball,delta"`
	Stage       string             `parquet:"stage,dict"`
	Intent      string             `parquet:"intent,dict"`
	Club        string             `parquet:"club,dict"`
	Void        string             `parquet:"void,dict"`
	Mishit      bool               `parquet:"mishit"`
	CarryTenths int32              `parquet:"carry_tenths"`
	SideTenths  int32              `parquet:"side_tenths"`
	Carry       float64            `parquet:"carry"`
	Side        float64            `parquet:"side"`
	Numbers     map[string]float64 `parquet:"numbers" parquet-key:",dict" parquet-value:",plain"`
	Texts       map[string]string  `parquet:"texts" parquet-key:",dict" parquet-value:",dict"`
}

// The places of the leaf columns, in the order of shotRow.
const (
	atPupil = iota
	atSession
	atDay
	atUnit
	atLine
	atBall
	atStage
	atIntent
	atClub
	atVoid
	atMishit
	atCarryTenths
	atSideTenths
	atCarry
	atSide
	atNumberName
	atNumber
	atTextName
	atText
	leaves // how many there are
)

var schema = parquet.SchemaOf(shotRow{})

// metaKey is the key of the file's metadata that holds the rest of a lesson.
const metaKey = "landfall.lesson"
