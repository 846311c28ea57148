package exchange

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/table"
)

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

// RejectedName is the file beside a spreadsheet that takes the rows that cannot be
// used: the first name that is free, since a file that is there may be half mended by
// hand. Where one there holds these very rows it is that, and nothing is to be
// written.
func (im *Import) RejectedName(path string, open func(name string) (io.ReadCloser, error)) (name string, there bool, err error) {
	const many = 999 // who has so many has not looked into the first
	var rows bytes.Buffer
	if err := im.WriteRejected(&rows); err != nil {
		return "", false, err
	}
	for n := 1; n <= many; n++ {
		name = path + ".rejected.csv"
		if n > 1 {
			name = fmt.Sprintf("%s.rejected%d.csv", path, n)
		}
		f, err := open(name)
		if errors.Is(err, fs.ErrNotExist) {
			return name, false, nil
		}
		if err != nil {
			continue // what cannot be read is somebody's all the same
		}
		same, err := holds(f, rows.Bytes())
		if err = errors.Join(err, f.Close()); err == nil && same {
			return name, true, nil
		}
	}
	return "", false, model.Inputf("%q is there already, and so are %q and so on; remove those that are done with", path+".rejected.csv", path+".rejected2.csv")
}

// holds tells whether a file is these bytes and no more.
func holds(f io.Reader, want []byte) (bool, error) {
	got, err := io.ReadAll(io.LimitReader(f, int64(len(want))+1))
	return bytes.Equal(got, want), err
}
