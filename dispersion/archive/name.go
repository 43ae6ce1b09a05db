package archive

import (
	"fmt"
	"hash/crc32"
	"regexp"
)

// A name says of a session's file what must be known without opening it:
//
//	DAY.CONTENT.CHECKSUM.parquet
//
// the day, as 2024-05-01 or undated, so that names sort by day; 32 hexadecimal
// digits of the SHA-256 of what was hit, by which a session is known again; and
// the CRC-32C of the file's bytes.
type name struct {
	day      string // "" for undated
	content  string
	checksum uint32
}

const undated = "undated"

var namePattern = regexp.MustCompile(`^(\d{4}-\d\d-\d\d|undated)\.([0-9a-f]{32})\.([0-9a-f]{8})\.parquet$`)

func parseName(text string) (name, bool) {
	m := namePattern.FindStringSubmatch(text)
	if m == nil {
		return name{}, false
	}
	n := name{day: m[1], content: m[2]}
	if n.day == undated {
		n.day = ""
	}
	if _, err := fmt.Sscanf(m[3], "%08x", &n.checksum); err != nil {
		return name{}, false
	}
	return n, true
}

func (n name) String() string {
	day := n.day
	if day == "" {
		day = undated
	}
	return fmt.Sprintf("%s.%s.%08x.parquet", day, n.content, n.checksum)
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func checksum(data []byte) uint32 { return crc32.Checksum(data, castagnoli) }
