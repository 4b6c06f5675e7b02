package book

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// CSV writes a table as RFC 4180 says: a header, one record a line, lines ended
// by CR LF, cells quoted where they must be. It begins with a byte order mark,
// by which spreadsheets know UTF-8.
//
// A cell that a spreadsheet would take for a formula gets an apostrophe before
// it, which spreadsheets take as "text follows" (OWASP, CSV Injection, from
// memory). A plain negative number is left alone.
func CSV(header []string, rows [][]string) []byte {
	var b strings.Builder
	b.WriteString("\uFEFF")
	writeRow(&b, header)
	for _, row := range rows {
		writeRow(&b, row)
	}
	return []byte(b.String())
}

func writeRow(b *strings.Builder, row []string) {
	for i, cell := range row {
		if i > 0 {
			b.WriteByte(',')
		}
		cell = disarm(cell)
		lonely := cell == "" && len(row) == 1 // which would be an empty line, and skipped
		if lonely || strings.ContainsAny(cell, ",\"\r\n") || cell != strings.TrimSpace(cell) {
			cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
		}
		b.WriteString(cell)
	}
	b.WriteString("\r\n")
}

// disarm makes a formula of a spreadsheet plain text. Spreadsheets skip white
// space before looking, and some take the full-width signs for the plain ones.
func disarm(cell string) string {
	first, _ := utf8.DecodeRuneInString(strings.TrimLeft(cell, " \t\r\n\u00a0"))
	if strings.ContainsRune("=+-@＝＋－＠", first) && !negative(cell) || strings.IndexAny(cell, "\t\r\n") == 0 {
		return "'" + cell
	}
	return cell
}

// negative reports whether s is a plain negative number.
func negative(s string) bool {
	digits, ok := strings.CutPrefix(s, "-")
	return ok && digits != "" && strings.Trim(digits, "0123456789.") == ""
}

// tableCells is how many cells a line of the list of formulas has.
const tableCells = 9

// isTable reports whether a text is the list of formulas and no backup, also as a
// spreadsheet wrote it out again, with semicolons or without its mark: so many
// cells in its first line, and in its second the time of a save.
func isTable(text []byte) bool {
	s, marked := strings.CutPrefix(string(text[:min(len(text), 8192)]), "\uFEFF")
	header, rest, _ := strings.Cut(s, "\n")
	if !slices.ContainsFunc([]string{",", ";", "\t"}, func(sep string) bool { return strings.Count(header, sep) == tableCells-1 }) {
		return false
	}
	line, _, _ := strings.Cut(rest, "\n")
	return marked && line == "" || saysTime(line)
}

// saysTime reports whether a time as [isoTime] writes it stands in a line.
func saysTime(line string) bool {
	const shape = "0000-00-00T00:00:00Z"
	for at := range max(0, len(line)-len(shape)+1) {
		alike := func(i int) bool {
			c := line[at+i]
			return c == shape[i] || shape[i] == '0' && c >= '0' && c <= '9'
		}
		n := 0
		for n < len(shape) && alike(n) {
			n++
		}
		if n == len(shape) {
			return true
		}
	}
	return false
}

// HeadCells are the cells of a head that every table of formulas begins with:
// name, tags, time of the last save (ISO 8601, UTC), revision, id.
func HeadCells(h Head) []string {
	return []string{h.Name, strings.Join(h.Tags, "; "), isoTime(h.Saved), strconv.Itoa(h.Rev), h.ID}
}

// isoTime writes a Unix time in ms as 2026-11-25T14:03:53Z, without the time
// package, which costs more than the whole table. The calendar is the proleptic
// Gregorian one; the reckoning from days is Howard Hinnant's (chrono-compatible
// low-level date algorithms, 2013, from memory).
func isoTime(ms int64) string {
	sec := ms / 1000
	days, rest := sec/86400, sec%86400
	z := days + 719468
	era := z / 146097
	doe := z - era*146097
	yoe := (doe - doe/1460 + doe/36524 - doe/146096) / 365
	doy := doe - (365*yoe + yoe/4 - yoe/100)
	mp := (5*doy + 2) / 153
	day := doy - (153*mp+2)/5 + 1
	month, year := mp+3, yoe+era*400
	if month > 12 {
		month -= 12
		year++
	}
	return pad(year, 4) + "-" + pad(month, 2) + "-" + pad(day, 2) +
		"T" + pad(rest/3600, 2) + ":" + pad(rest/60%60, 2) + ":" + pad(rest%60, 2) + "Z"
}

func pad(n int64, width int) string {
	s := strconv.FormatInt(n, 10)
	return strings.Repeat("0", max(0, width-len(s))) + s
}
