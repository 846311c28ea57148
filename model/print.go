package model

import (
	"strings"

	"example.org/tuckrow/model/words"
)

// PrintText says what is known of what was printed at home: pages and paper, whether
// it came out true to scale, whether it is assembled, the version of the file.
func (c *Copy) PrintText() string {
	p, parts := c.Print, []string(nil)
	if p.Pages > 0 {
		parts = append(parts, strings.TrimSpace(words.Count(p.Pages, "page", "pages")+" "+p.Paper))
	}
	if scale := p.Scale(); scale != "" && c.Medium == Printed {
		parts = append(parts, scale)
	}
	if p.Assembled {
		parts = append(parts, "assembled")
	}
	if p.Version != "" {
		parts = append(parts, "version "+p.Version)
	}
	return strings.Join(parts, ", ")
}
