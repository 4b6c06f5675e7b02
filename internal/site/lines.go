package site

import (
	"bytes"
	"encoding/binary"
	"slices"
)

// The linker writes down for each instruction which line of which file it comes
// from. A shipped program needs that for nothing but the trace that it leaves on the
// console when it ends by itself, which names its functions all the same. Without
// it the program is a fifteenth smaller when it arrives.
//
// Where this stands is the toolchain's own affair: package runtime, symtab.go
// (pcHeader) and runtime2.go (_func), here as Go 1.26 has them. Data that is not laid
// out like that stays as it is.

// lineMagic begins the table of functions, for programs with pointers of 8 bytes
// and instructions of 1.
var lineMagic = []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}

const (
	lineHead   = 72 // bytes of the header
	funcEntry  = 8  // bytes of an entry of the index: where the function and its record are
	funcRecord = 44 // bytes of a function's record before its own list of tables
	atFile     = 20 // where a record names its table of files,
	atLine     = 24 // its table of lines,
	atTables   = 28 // how many more tables it has,
	atUnit     = 32 // and its compilation unit, which lists files
	atStack    = 16 // where it names its table of the stack, which stays
)

// functions is the table of functions of a program.
type functions struct {
	records [][]byte // of each function, up to the end of the table
	units   []byte   // compilation units: their files
	files   []byte   // names of files
	tables  []byte   // what the records name by their offsets
}

// withoutLines blanks out lines and files in a program's data. It reports whether
// it has found them.
func withoutLines(segments []segment) bool {
	for _, s := range segments {
		for rest := s.data; ; rest = rest[len(lineMagic):] {
			at := bytes.Index(rest, lineMagic)
			if at < 0 {
				break
			}
			rest = rest[at:]
			if f, ok := readFunctions(rest); ok {
				f.blankLines()
				return true
			}
		}
	}
	return false
}

// readFunctions reads a table of functions; false when it is none.
func readFunctions(b []byte) (functions, bool) {
	if len(b) < lineHead {
		return functions{}, false
	}
	word := func(i int) uint64 { return binary.LittleEndian.Uint64(b[8*i:]) }
	count, units, files, tables, index := word(1), word(5), word(6), word(7), word(8)
	ends := []uint64{lineHead, word(4), units, files, tables, index, uint64(len(b))}
	if !slices.IsSorted(ends) || count > (uint64(len(b))-index)/funcEntry {
		return functions{}, false
	}
	f := functions{units: b[units:files], files: b[files:tables], tables: b[tables:index]}
	list := b[index:]
	for i := range count {
		at := uint64(binary.LittleEndian.Uint32(list[i*funcEntry+4:]))
		if at+funcRecord > uint64(len(list)) {
			return functions{}, false
		}
		record := list[at:]
		more := uint64(binary.LittleEndian.Uint32(record[atTables:]))
		if more > uint64(len(record)-funcRecord)/4 {
			return functions{}, false
		}
		f.records = append(f.records, record[:funcRecord+4*more])
	}
	return f, count > 0
}

// blankLines takes the tables of files and lines from every record, and blanks
// them out unless another record has them for another purpose. A table that is
// named 0 is none.
func (f functions) blankLines() {
	stays := map[uint32]bool{0: true}
	starts := []uint32{uint32(len(f.tables))} // of each table, and the end
	for _, r := range f.records {
		for at := atStack; at < len(r); at += 4 {
			switch table := binary.LittleEndian.Uint32(r[at:]); {
			case at == atFile || at == atLine:
				starts = append(starts, table)
			case at == atStack || at >= funcRecord:
				starts, stays[table] = append(starts, table), true
			}
		}
		clear(r[atFile:atTables])
		clear(r[atUnit:][:4])
	}
	slices.Sort(starts)
	starts = slices.Compact(starts)
	for i, start := range starts[:len(starts)-1] {
		if !stays[start] && starts[i+1] <= uint32(len(f.tables)) {
			clear(f.tables[start:starts[i+1]])
		}
	}
	clear(f.units)
	clear(f.files)
}
