package table

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
)

func mustRead(t *testing.T, text string) *Table {
	t.Helper()
	got, err := Read(strings.NewReader(text))
	if err != nil {
		t.Fatalf("reading %q: %v", text, err)
	}
	return got
}

// content is a table without what only its file decides.
func content(t *Table) [][]string {
	rows := [][]string{t.Header}
	for _, r := range t.Rows {
		rows = append(rows, r.Cells)
	}
	return rows
}

func checkContent(t *testing.T, text string, want [][]string) {
	t.Helper()
	if got := content(mustRead(t, text)); !reflect.DeepEqual(got, want) {
		t.Errorf("reading %q\n got %q\nwant %q", text, got, want)
	}
}

// The numbers and the examples are those of RFC 4180, section 2. From memory.
func TestReadFollowsRFC4180(t *testing.T) {
	abc := []string{"aaa", "bbb", "ccc"}
	xyz := []string{"zzz", "yyy", "xxx"}
	for rule, c := range map[string]struct {
		text string
		want [][]string
	}{
		"1: each record on a line of its own": {"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [][]string{abc, xyz}},
		"2: the last may lack its line end":   {"aaa,bbb,ccc\r\nzzz,yyy,xxx", [][]string{abc, xyz}},
		"4: spaces are part of a field":       {"aaa , bbb,ccc\r\n", [][]string{{"aaa ", " bbb", "ccc"}}},
		"5: fields may be quoted":             {"\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", [][]string{abc, xyz}},
		"6: line breaks in quotes":            {"\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", [][]string{{"aaa", "b\r\nbb", "ccc"}, xyz}},
		"6: commas in quotes":                 {"\"a,aa\",bbb,ccc\r\n", [][]string{{"a,aa", "bbb", "ccc"}}},
		"7: quotes are doubled":               {"\"aaa\",\"b\"\"bb\",\"ccc\"", [][]string{{"aaa", "b\"bb", "ccc"}}},
	} {
		t.Run(rule, func(t *testing.T) { checkContent(t, c.text, c.want) })
	}
}

// Source: the npm package csv-spectrum 2.0.0; see its folder in testdata.
func TestReadCSVSpectrum(t *testing.T) {
	files, err := filepath.Glob("testdata/csv-spectrum/*.csv")
	if err != nil || len(files) != 11 {
		t.Fatalf("found %d files and error %v, want the 11 that were put there", len(files), err)
	}
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			plain, err := os.ReadFile(strings.TrimSuffix(name, "csv") + "json")
			if err != nil {
				t.Fatal(err)
			}
			var want []map[string]string
			if err := json.Unmarshal(plain, &want); err != nil {
				t.Fatal(err)
			}
			table := mustRead(t, string(text))
			var got []map[string]string
			for _, r := range table.Rows {
				if r.Extra != 0 {
					t.Errorf("line %d has %d cells too many", r.Line, r.Extra)
				}
				object := map[string]string{}
				for i, name := range table.Header {
					object[name] = r.Cells[i]
				}
				got = append(got, object)
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("got %q\nwant %q", got, want)
			}
		})
	}
}

func TestReadFindsTheDelimiter(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want rune
		rows [][]string
	}{
		"comma":                            {"a,b\n1,2\n", ',', [][]string{{"a", "b"}, {"1", "2"}}},
		"semicolon":                        {"a;b\n1;2\n", ';', [][]string{{"a", "b"}, {"1", "2"}}},
		"tab":                              {"a\tb\n1\t2\n", '\t', [][]string{{"a", "b"}, {"1", "2"}}},
		"one column":                       {"a\n1;2\n", ',', [][]string{{"a"}, {"1;2"}}},
		"decimal commas":                   {"a;b\n1,5;2,5\n", ';', [][]string{{"a", "b"}, {"1,5", "2,5"}}},
		"a comma in a name":                {"a, b;c\n1;2\n3;4\n", ';', [][]string{{"a, b", "c"}, {"1", "2"}, {"3", "4"}}},
		"a semicolon in a name":            {"a; b,c\n1,2\n3,4\n", ',', [][]string{{"a; b", "c"}, {"1", "2"}, {"3", "4"}}},
		"commas in names only":             {"a, b, c;d\n", ',', [][]string{{"a", " b", " c;d"}}},
		"more commas than tabs in quotes":  {"a\t\"b,c,d\"\n1\t\"2,3,4\"\n", '\t', [][]string{{"a", "b,c,d"}, {"1", "2,3,4"}}},
		"quotes show whose cells they are": {"a;\"b,c\"\n1;\"2,3\"\n", ';', [][]string{{"a", "b,c"}, {"1", "2,3"}}},
		"a bare quote":                     {"a;b\n5\";2\n", ';', [][]string{{"a", "b"}, {"5\"", "2"}}},
		"named":                            {"sep=;\r\na,b\r\n1,2\r\n", ';', [][]string{{"a,b"}, {"1,2"}}},
		"named in capitals, a tab":         {"SEP=\t\na;b\tc;d\n", '\t', [][]string{{"a;b", "c;d"}}},
		"named, a line":                    {"sep=|\na|b\n", '|', [][]string{{"a", "b"}}},
		"named after a byte order mark":    {"\ufeffsep=;\na;b\n", ';', [][]string{{"a", "b"}}},
		"a header that names none":         {"sep=,more\n1,2\n", ',', [][]string{{"sep=", "more"}, {"1", "2"}}},
		"a header that names a letter":     {"sep=a\nbab\n", ',', [][]string{{"sep=a"}, {"bab"}}},
		"a header that names a capital":    {"sep=Z\nbZb\n", ',', [][]string{{"sep=Z"}, {"bZb"}}},
		"a header that names a digit":      {"sep=0\n101\n", ',', [][]string{{"sep=0"}, {"101"}}},
		"a header that names a control":    {"sep=\x01\n1\x011\n", ',', [][]string{{"sep=\x01"}, {"1\x011"}}},
		"a header that names a delete":     {"sep=\x7f\n1\x7f1\n", ',', [][]string{{"sep=\x7f"}, {"1\x7f1"}}},
		"quotes that only commas close":    {"a,b;c;d\n\"1;2\",3,4\n", ',', [][]string{{"a", "b;c;d"}, {"1;2", "3", "4"}}},
		"an empty cell at the very end":    {"a,b\n1,", ',', [][]string{{"a", "b"}, {"1", ""}}},
		"a header that names a quote":      {"sep=\"\n1\"1\n", ',', [][]string{{"sep=\""}, {"1\"1"}}},
		"a header that names é":            {"sep=é\n1\n", ',', [][]string{{"sep=é"}, {"1"}}},
		"a header of sep= alone":           {"sep=\n1\n", ',', [][]string{{"sep="}, {"1"}}},
		"a header of sep= and no more":     {"sep=", ',', [][]string{{"sep="}}},
	} {
		t.Run(name, func(t *testing.T) {
			checkContent(t, c.text, c.rows)
			if got := mustRead(t, c.text).Delimiter; got != c.want {
				t.Errorf("reading %q: delimiter %q, want %q", c.text, got, c.want)
			}
		})
	}
}

// Only the first rows decide, so that a large file is not read three times.
func TestReadLooksAtTheFirstRowsForTheDelimiter(t *testing.T) {
	// With the header, 20 rows: one less, or one more, and the comma wins.
	text := "a,b;c\n" + strings.Repeat("1,2\n", 9) + strings.Repeat("1;2\n", 10) + strings.Repeat("1,2\n", 60)
	if got := mustRead(t, text).Delimiter; got != ';' {
		t.Errorf("delimiter %q, want the one of the first 20 rows", got)
	}
}

func TestReadEndsLines(t *testing.T) {
	for name, c := range map[string]struct {
		text, newline string
		lines         []int
	}{
		"CRLF":                {"a,b\r\n1,2\r\n3,4\r\n", "\r\n", []int{1, 2, 3}},
		"LF":                  {"a,b\n1,2\n3,4\n", "\n", []int{1, 2, 3}},
		"lone CR":             {"a,b\r1,2\r3,4\r", "\r", []int{1, 2, 3}},
		"no last line end":    {"a,b\r1,2\r3,4", "\r", []int{1, 2, 3}},
		"mixed":               {"a,b\r1,2\n3,4\r\n", "\r", []int{1, 2, 3}},
		"below blank lines":   {"\n\r\n\ra,b\n1,2\n3,4\n", "\n", []int{4, 5, 6}},
		"below a sep= line":   {"sep=,\r\na,b\n1,2\n3,4\n", "\r\n", []int{2, 3, 4}},
		"below line breaks":   {"a,\"\nb\"\n1,\"2\r\n\"\r\n3,4", "\n", []int{1, 3, 5}},
		"quoted, not counted": {"a,\"\r\rb\"\n1,2\n3,4", "\n", []int{1, 4, 5}},
	} {
		t.Run(name, func(t *testing.T) {
			got := mustRead(t, c.text)
			if got.Newline != c.newline {
				t.Errorf("line end %q, want %q", got.Newline, c.newline)
			}
			lines := []int{got.HeaderLine}
			for _, r := range got.Rows {
				lines = append(lines, r.Line)
			}
			if !reflect.DeepEqual(lines, c.lines) {
				t.Errorf("rows on lines %v, want %v", lines, c.lines)
			}
		})
	}
	if got := mustRead(t, "a,b").Newline; got != "" {
		t.Errorf("line end %q of a text that has none", got)
	}
}

func TestReadKeepsLineBreaksInQuotes(t *testing.T) {
	checkContent(t, "a\n\"1\r\n2\n3\r4\"\n", [][]string{{"a"}, {"1\r\n2\n3\r4"}})
}

func TestReadKeepsQuotesWithinUnquotedCells(t *testing.T) {
	checkContent(t, "a,b\n5\" hem, \"x\"\n", [][]string{{"a", "b"}, {"5\" hem", " \"x\""}})
}

func TestReadFitsRowsToTheHeader(t *testing.T) {
	got := mustRead(t, "a,b,c\n1\n\n1,2,3,4,5\n1,2,3\n,,\n")
	want := []Row{
		{Line: 2, Cells: []string{"1", "", ""}},
		{Line: 3, Cells: []string{"", "", ""}},
		{Line: 4, Cells: []string{"1", "2", "3", "4", "5"}, Extra: 2},
		{Line: 5, Cells: []string{"1", "2", "3"}},
		{Line: 6, Cells: []string{"", "", ""}},
	}
	if !reflect.DeepEqual(got.Rows, want) {
		t.Errorf("got %v\nwant %v", got.Rows, want)
	}
	var blank []int
	for _, r := range got.Rows {
		if r.Blank() {
			blank = append(blank, r.Line)
		}
	}
	if !reflect.DeepEqual(blank, []int{3, 6}) {
		t.Errorf("blank lines %v, want 3 and 6", blank)
	}
}

func TestReadGivesRowsThatCanBeExtended(t *testing.T) {
	got := mustRead(t, "a\n1\n2\n")
	_ = append(got.Rows[0].Cells, "x")
	if c := got.Rows[1].Cells[0]; c != "2" {
		t.Errorf("appending to one row made %q of the next", c)
	}
}

func TestReadTakesAHeaderAlone(t *testing.T) {
	for _, text := range []string{"a,b", "a,b\r\n"} {
		if got := mustRead(t, text); !reflect.DeepEqual(got.Header, []string{"a", "b"}) || len(got.Rows) != 0 {
			t.Errorf("reading %q: header %q and %d rows", text, got.Header, len(got.Rows))
		}
	}
}

func TestReadRestoresCells(t *testing.T) {
	checkContent(t, "'=a,'90s\n'-1,''+2\n'x,\"'\t\"\n",
		[][]string{{"=a", "'90s"}, {"-1", "'+2"}, {"'x", "\t"}})
}

func TestReadRefuses(t *testing.T) {
	const empty = `the file is empty: its first row must hold the names of the columns`
	const open = `is not closed: add the closing quote, or put the cell in quotes and double those that belong to its text`
	const after = `follows the closing quote of a cell: double the quotes that belong to the text of the cell`
	const nul = `the file holds a NUL byte, so it is not a table in plain text: if it is a workbook, open it in the spreadsheet and save it as CSV`
	for text, want := range map[string]string{
		"":                             empty,
		"\ufeff":                       empty,
		"\xff\xfe":                     empty,
		"\r\n\n\r":                     empty,
		"sep=;\r\n":                    empty,
		"sep=;":                        empty,
		"a\n1\n\"2\n3\n":               `line 3: the quote before "2" ` + open,
		"a\n\"1\n\n2\",\"3\"\"\n\n":    `line 4: the quote before "3\"\"" ` + open,
		"a\n\"":                        `line 2: the quote before "" ` + open,
		"\"abcdefghijklmnopqrstuvéxyz": `line 1: the quote before "abcdefghijklmnopqrstuvé..." ` + open,
		"\"abcdefghijklmnopqrstuvwéyz": `line 1: the quote before "abcdefghijklmnopqrstuvw..." ` + open,
		"a\n\"1\n2\"x,3\n":             `line 3: "x,3" ` + after,
		"a\n\"1\" \n":                  `line 2: " " ` + after,
		"a;\"b\nc\",d":                 `line 2: ",d" ` + after,
		"a\r\nb\x00\n":                 `line 2: ` + nul,
		// How a ZIP archive starts, which most workbooks are. From memory.
		"PK\x03\x04\x14\x00\x06\x00\xe9": `line 1: ` + nul,
		// UTF-32LE starts as UTF-16LE does.
		"\xff\xfe\x00\x00a\x00\x00\x00": `line 1: ` + nul,
		"\ufeffa\nb\nc\xe9\n":           `line 3: "\xe9" is not UTF-8, which the file says it is: save it again as CSV UTF-8`,
		"\xff\xfea\x00b":                `the file is UTF-16 and ends in half a character, so it was cut short: fetch it or save it again`,
		"\xfe\xff\x00a\x00\n\xd8\x08":   `line 2: the file is UTF-16 and holds half a character (0xd808): save it again as CSV UTF-8`,
		"\xff\xfe\x45\xdfa\x00":         `line 1: the file is UTF-16 and holds half a character (0xdf45): save it again as CSV UTF-8`,
	} {
		got, err := Read(strings.NewReader(text))
		if err == nil || err.Error() != want {
			t.Errorf("reading %q\n got error %v\nwant error %s", text, err, want)
		}
		if got != nil {
			t.Errorf("reading %q gave a table with its error", text)
		}
	}
}

func TestReadPassesOnTheErrorOfItsReader(t *testing.T) {
	broken := errors.New("the disk is gone")
	if _, err := Read(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("error %v, want %v", err, broken)
	}
}

func TestReadKeepsItsLimits(t *testing.T) {
	for _, c := range []struct {
		text string
		max  limits
		want string
	}{
		{"a,b\n1\n2\n", limits{bytes: 8, cells: 6}, ""},
		{"a,b\n1\n2\n", limits{bytes: 7, cells: 6}, "the file has more than 7 bytes: check that it is a table, or split it in parts"},
		// The empty cells that fill up short rows count.
		{"a,b\n1\n2\n", limits{bytes: 8, cells: 5}, "line 3: the table has more than 5 cells: split the file in parts"},
	} {
		got := ""
		if _, err := read(strings.NewReader(c.text), c.max); err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("limits %v: error %q, want %q", c.max, got, c.want)
		}
	}
}
