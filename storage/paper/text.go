package paper

import "strings"

// joined puts parts that are there one behind the other.
func joined(between string, parts ...string) string {
	var there []string
	for _, s := range parts {
		if s != "" {
			there = append(there, s)
		}
	}
	return strings.Join(there, between)
}
