package exchange

import (
	"io"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/table"
)

// WriteCSV writes one row a copy, in the order of arrival.
func WriteCSV(w io.Writer, c *model.Collection) error {
	out := table.NewWriter(w)
	fields := model.Fields()
	cells := make([]string, len(fields))
	for i, f := range fields {
		cells[i] = f.Name
	}
	if err := out.Write(cells); err != nil {
		return err
	}
	for _, cp := range c.Copies().All() {
		en := c.EntryOf(cp)
		for i, f := range fields {
			cells[i] = f.Get(&en)
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	return out.Flush()
}
