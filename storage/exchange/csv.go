package exchange

import (
	"io"
	"slices"
	"strconv"

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

// The columns that WriteRejected puts in front.
const (
	rejectedLine = "rejected_line"
	rejectedWhy  = "rejected_because"
)

// WriteRejected writes the rows that were not used as they were, with the line
// and the reason in front, to be mended and imported again. Those of an earlier
// time give way.
func (im *Import) WriteRejected(w io.Writer) error {
	out, front, old := table.NewWriter(w), []string{rejectedLine, rejectedWhy}, 0
	if len(im.Header) > len(front) && slices.Equal(im.Header[:len(front)], front) {
		old = len(front)
	}
	heads := slices.Clone(im.Header[old:])
	for i, ours := range im.Columns[old:] {
		// Ours, so that it need not be said again which column is what, but where
		// its cells would be read otherwise then.
		if f, ok := model.FieldNamed(ours); ok && !f.ByHand() {
			heads[i] = ours
		}
	}
	if err := out.Write(slices.Concat(front, heads)); err != nil {
		return err
	}
	for _, r := range im.Rejected {
		row := slices.Concat([]string{strconv.Itoa(r.Line), r.Reason}, r.Cells[old:])
		if err := out.Write(row); err != nil {
			return err
		}
	}
	return out.Flush()
}
