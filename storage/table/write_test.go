package table

import (
	"bytes"
	"errors"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func mustWrite(t testingT, header []string, rows ...[]string) string {
	t.Helper()
	table := &Table{Header: header}
	for _, r := range rows {
		table.Rows = append(table.Rows, Row{Cells: r})
	}
	var b bytes.Buffer
	if err := Write(&b, table); err != nil {
		t.Fatalf("writing %q: %v", content(table), err)
	}
	return b.String()
}

// testingT is what *testing.T and *rapid.T share.
type testingT interface {
	Helper()
	Fatalf(format string, args ...any)
}

func TestWrite(t *testing.T) {
	for name, c := range map[string]struct {
		rows [][]string
		want string
	}{
		"plain":                   {[][]string{{"a", "b"}, {"1 x", "é"}}, "a,b\r\n1 x,é\r\n"},
		"what needs quotes":       {[][]string{{"a,b", "a\"b", "a\rb", "a\nb", " a", "a ", "a;b", "a\tb"}}, "\"a,b\",\"a\"\"b\",\"a\rb\",\"a\nb\",\" a\",\"a \",\"a;b\",\"a\tb\"\r\n"},
		"quotes at both ends":     {[][]string{{"\"a\""}}, "\"\"\"a\"\"\"\r\n"},
		"formulas":                {[][]string{{"=a", "-1"}, {"\tx", "'=y"}}, "'=a,'-1\r\n\"'\tx\",''=y\r\n"},
		"empty cells":             {[][]string{{"a", "b"}, {"", ""}, {"1", ""}}, "a,b\r\n,\r\n1,\r\n"},
		"a single empty cell":     {[][]string{{""}, {""}, {}}, "\"\"\r\n\"\"\r\n\"\"\r\n"},
		"short rows":              {[][]string{{"a", "b", "c"}, {"1"}, {}}, "a,b,c\r\n1,,\r\n,,\r\n"},
		"long rows":               {[][]string{{"a"}, {"1", "2"}, {"", ""}}, "a\r\n1,2\r\n,\r\n"},
		"a header like sep=":      {[][]string{{"Sep=", ""}, {"sep=", ""}}, "\"Sep=\",\r\nsep=,\r\n"},
		"a header with a mark":    {[][]string{{"\ufeffa", "\ufeff"}, {"\ufeff", ""}}, "\"\ufeffa\",\ufeff\r\n\ufeff,\r\n"},
		"an apostrophe of a word": {[][]string{{"'90s"}}, "'90s\r\n"},
	} {
		t.Run(name, func(t *testing.T) {
			if got := mustWrite(t, c.rows[0], c.rows[1:]...); got != c.want {
				t.Errorf("got %q\nwant %q", got, c.want)
			}
		})
	}
}

func TestWriteRefuses(t *testing.T) {
	const tail = ` is not text, as it holds a NUL byte or is not UTF-8: type it anew`
	for _, c := range []struct {
		rows          [][]string
		want, written string
	}{
		{[][]string{{}}, "writing the table: its header has no cells: name at least one column", ""},
		{[][]string{{"a", "b\x00"}}, `writing the table: row 1, column 2: "b\x00"` + tail, ""},
		{[][]string{{"a"}, {"x"}, {"\xe9"}}, `writing the table: row 3, column 1: "\xe9"` + tail, "a\r\nx\r\n"},
	} {
		var b bytes.Buffer
		w := NewWriter(&b)
		var err error
		for _, r := range c.rows {
			err = errors.Join(err, w.Write(r))
		}
		if err == nil || err.Error() != c.want {
			t.Errorf("writing %q\n got error %v\nwant error %s", c.rows, err, c.want)
		}
		if err := w.Flush(); err != nil || b.String() != c.written {
			t.Errorf("writing %q: %q was written, error %v, want %q", c.rows, b.String(), err, c.written)
		}
	}
	table := &Table{Header: []string{"a"}, Rows: []Row{{Cells: []string{"\xe9"}}}}
	if err := Write(&bytes.Buffer{}, table); err == nil {
		t.Error("Write passed over the error of a row")
	}
	if err := Write(&bytes.Buffer{}, &Table{}); err == nil {
		t.Error("Write passed over the error of the header")
	}
}

var errFull = errors.New("the disk is full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWriteTellsOfAFullDisk(t *testing.T) {
	small := &Table{Header: []string{"a"}}
	if err := Write(full{}, small); !errors.Is(err, errFull) {
		t.Errorf("a small table: error %v, want %v", err, errFull)
	}
	w := NewWriter(full{})
	if err := w.Write([]string{strings.Repeat("a", 1<<20)}); !errors.Is(err, errFull) {
		t.Errorf("a large row: error %v, want %v", err, errFull)
	}
}

// textCell is any cell that can be written.
func textCell() *rapid.Generator[string] {
	return anyCell().Filter(func(s string) bool {
		return utf8.ValidString(s) && strings.IndexByte(s, 0) < 0
	})
}

func TestReadGivesBackWhatWriteWrote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		header := rapid.SliceOfN(textCell(), 1, 4).Draw(t, "header")
		rows := rapid.SliceOfN(rapid.SliceOfN(textCell(), 0, 5), 0, 4).Draw(t, "rows")
		file := mustWrite(t, header, rows...)
		if again := mustWrite(t, header, rows...); again != file {
			t.Fatalf("written as %q and then as %q", file, again)
		}
		got, err := Read(strings.NewReader(file))
		if err != nil {
			t.Fatalf("reading %q: %v", file, err)
		}
		want := [][]string{header}
		for _, r := range rows {
			filled := append([]string{}, r...)
			for len(filled) < len(header) {
				filled = append(filled, "")
			}
			want = append(want, filled)
		}
		if !reflect.DeepEqual(content(got), want) {
			t.Fatalf("written as %q\n got %q\nwant %q", file, content(got), want)
		}
		for i, r := range got.Rows {
			if extra := max(0, len(rows[i])-len(header)); r.Extra != extra {
				t.Fatalf("row %d has %d extra cells, want %d", i, r.Extra, extra)
			}
		}
		if got.Delimiter != ',' || got.Encoding != UTF8 || got.Newline != "\r\n" {
			t.Fatalf("read as %q, %q, %q: want commas, UTF-8, CRLF", got.Delimiter, got.Encoding, got.Newline)
		}
	})
}

func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"a,b\r\n1,\"2\r\n\"\"3\"\r\n", "sep=;\na;b\n\n1\n", "\ufeffa\tb\r1\t2\r", "a\n'=1\n''90s\n",
		"\xff\xfea\x00\n\x00\x08\xd8\x45\xdf", "\xfe\xff\x00a", "a;b\n\x80;\xe9\n", "a\n\"1\n", "a\n\"1\"2", "\x00",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		// A few kilobytes can ask for as many cells as fit in memory.
		if len(data) > 4096 {
			t.Skip()
		}
		first, err := Read(bytes.NewReader(data))
		if err != nil {
			if first != nil || err.Error() == "" {
				t.Fatalf("table %v with error %q", first, err)
			}
			return
		}
		var file bytes.Buffer
		if err := Write(&file, first); err != nil {
			t.Fatalf("writing what was read: %v", err)
		}
		second, err := Read(bytes.NewReader(file.Bytes()))
		if err != nil {
			t.Fatalf("reading %q: %v", file.String(), err)
		}
		if !reflect.DeepEqual(content(first), content(second)) {
			t.Fatalf("first %q\nthen %q", content(first), content(second))
		}
	})
}
