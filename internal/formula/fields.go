package formula

import "strconv"

// The stable names of the inputs that repeat: "part-1-amount", "dose-2-name".
// They count from 1, as a person does; index counts from 0.

// PartField is the input name of one property of the liquid's part.
func PartField(index int, property string) string { return rowField("part-", index, property) }

// DoseField is the input name of one property of a dose.
func DoseField(index int, property string) string { return rowField("dose-", index, property) }

func rowField(row string, index int, property string) string {
	return row + strconv.Itoa(index+1) + "-" + property
}
