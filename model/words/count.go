package words

import "strconv"

// Count writes how many there are: "1 copy", "7 copies", "0 copies".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
