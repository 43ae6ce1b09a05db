// Package archive keeps years of lessons in a folder of Parquet files, one for
// each session, and streams them back group by group.
//
// [Archive.Add] returns when a session is safely on disk, and changes nothing
// for one that is there already. What comes back is what went in: every number
// to the last bit, the further columns, the stages, the rows that were rejected
// and why. docs/archive.md describes the folder for those who read it with other
// tools, docs/sql.md the same sums in SQL.
//
// [Archive.Groups] streams groups to the rest of the library,
// [Archive.Summaries] their counts, moments and exact sums without holding
// their shots, and [Archive.Totals] adds those up for each pupil and club. All
// run on every core and give the same bits, in the same order, on any number of
// them. [Query] selects, and parts the work by pupil for several processes or
// machines that share the folder: [Archive.ForEachGroup].
//
// At this scale the unit is the pupil. The shots of one pupil resemble each
// other, so that an interval that takes them for independent is far too narrow:
// [Archive.Pool] and [Pool] take one value from each pupil and resample pupils.
//
// Nothing is passed over in silence. A file that is damaged, or that was put
// there by somebody else, is an error that names it; the rest of the archive can
// be read all the same. An Archive may be used from many goroutines, and a
// folder by many processes.
package archive
