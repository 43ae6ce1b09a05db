// Package lesson reads what was hit in one lesson from a file of separated
// values, one shot a row, and sorts it into stages, groups and pairs.
//
// [Read] keeps two kinds of bad news apart from an answer. A row that cannot be
// read is rejected, with its line, its column and what to do about it, and
// never takes good rows with it: shots plus rejected rows are always all the
// data rows. A row that is merely hard to believe is kept and warned of, since
// a shank is a shot. An error means that the file as a whole has no answer.
//
// Which stage a shot belongs to comes from columns of the file or from mark-up
// made afterwards, so that the file of a device need never be edited.
// [Lesson.Groups] then gives the landing points stage by stage and club by
// club with the mishits marked, and [Lesson.Pairs] which of them to compare.
//
// A file in other words is read by a [Mapping] of its columns, which [Propose]
// proposes and somebody who knows corrects. [Lesson.WriteCSV] and
// [Lesson.WriteDescriptor] write any lesson the plain way, [ReadPackage] reads
// the two back, and [Lesson.Anonymise] comes before giving it away.
//
// docs/data-format.md describes the files for those who write them.
package lesson
