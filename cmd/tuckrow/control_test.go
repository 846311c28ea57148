package main

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"example.org/tuckrow/model"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// evil is what steers a terminal or the direction of a line: escapes as one and
// as two bytes, and as a lone byte that is not UTF-8; OSC, DCS and APC; bells,
// backspaces, line breaks; overrides and isolates of direction; separators.
var evil = []string{
	"\x1b[31mred", "\x1b]0;title\x07", "\x1b]8;;http://x\x1b\\link", "\x1bP1$r\x1b\\", "\x1b_x\x1b\\", "\x1bc", "\x1b[6n",
	"\u009b31m", "\u009d0;t\u009c", "\x9b31m", "\xc2", "\x90q\x9c", "\x0e\x0f", "\x08\x08", "\x7f", "\x05", "a\tb", "a\r\nb", "a\nb", "a\vb\fc",
	"\u202egnitteS", "\u202d", "\u2066x\u2069", "\u200e\u200f\u061c", "\u2028", "\u2029", "\ufeff", "\u00ad", "\U000e0041", "\u0085",
}

// raw finds what may not come to a terminal.
func raw(out string) (string, bool) {
	for i, line := range strings.Split(out, "\n") {
		line = strings.TrimSuffix(line, "\r") // of a CSV
		if !utf8.ValidString(line) {
			return fmt.Sprintf("line %d: %q is not UTF-8", i+1, line), true
		}
		if strings.ContainsFunc(line, func(r rune) bool {
			return unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Bidi_Control) && r != '\u200c' && r != '\u200d'
		}) {
			return fmt.Sprintf("line %d: %q", i+1, line), true
		}
	}
	return "", false
}

// hostile runs commands and fails the test where anything raw comes out.
type hostile struct {
	t   *testing.T
	dir string
}

func (h *hostile) run(store string, args ...string) (string, int) {
	h.t.Helper()
	out, code := do(h.t, store, args...)
	if what, found := raw(out); found {
		h.t.Errorf("tuckrow %q prints raw %s", args, what)
	}
	return out, code
}

// write gives a file with a name of its own that is evil, too.
func (h *hostile) write(name, text string) string {
	h.t.Helper()
	path := filepath.Join(h.dir, "\x1b[5m\u202e"+name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		h.t.Skip("names of files cannot be so here: ", err)
	}
	return path
}

// csv is a spreadsheet with an evil text in each cell that takes any text, and
// in each heading but those that are needed.
func csvWith(e string) string {
	quote := func(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }
	var heads, free, all []string
	for _, f := range model.Fields() {
		heads = append(heads, f.Name)
		all = append(all, quote(e))
		cell := ""
		switch f.Name {
		case "publisher", "number", "name", "files_as", "category", "size_range", "dated_by", "complete", "batch", "tags", "notes", "box", "barcode", "out_to", "out_for":
			cell = "x" + e
		}
		free = append(free, quote(cell))
	}
	heads, free, all = append(heads, quote("h"+e)), append(free, quote(e)), append(all, quote(e))
	return strings.Join(heads, ",") + "\n" + strings.Join(free, ",") + "\n" + strings.Join(all, ",") + "\n"
}

// sealAgain gives altered lines of an export the last line that they should have.
func sealAgain(lines []string) string {
	text := strings.Join(lines, "\n") + "\n"
	return text + fmt.Sprintf("{\"kind\":\"end\",\"count\":%d,\"sha256\":\"%x\"}\n", len(lines), sha256.Sum256([]byte(text)))
}

// jsonlWith gives exports with an evil text in one line each.
func jsonlWith(t *testing.T, export, e string) (files []string) {
	t.Helper()
	text, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(export, "\n"), "\n")
	lines = lines[:len(lines)-1]
	for i, line := range lines {
		for _, form := range []string{string(text), `"` + e + `"`} { // as JSON escapes it, and as it is
			altered := append([]string(nil), lines...)
			at := strings.LastIndex(line, `"name":"`)
			if at < 0 {
				altered[i] = strings.Replace(line, "{", `{`+form+`:1,`, 1)
			} else {
				end := strings.IndexByte(line[at+8:], '"')
				altered[i] = line[:at+7] + form + line[at+8+end+1:]
			}
			files = append(files, sealAgain(altered))
		}
	}
	return files
}

// tomlWith gives shelf files with an evil text in them: escaped as TOML has it,
// where that can be, or as it is.
func tomlWith(e string) []string {
	var b strings.Builder
	for _, r := range e {
		fmt.Fprintf(&b, `\U%08x`, r)
	}
	var files []string
	for _, text := range []string{`"` + b.String() + `"`, "'" + e + "'"} {
		files = append(files,
			"envelope = "+text+"\n", text+" = 1\n", "units = "+text+"\n", "working_space = "+text+"\n", e+"\n",
			"[[section]]\ntitle = "+text+"\npublishers = ["+text+", \"*\"]\n[[box]]\nname = "+text+"\nlength = 300\nplace = "+text+
				"\n[[publisher]]\nname = "+text+"\nfiles_as = "+text+"\n[[binder]]\ncategory = "+text+"\npockets = 3\n[[hooks]]\nname = "+text+"\nhooks = 3\neach = 3\n",
			"[[publisher]]\nname = 'x'\nnumbers = "+text+"\n", "[[box]]\nname = 'x'\nlength = "+text+"\n")
	}
	return files
}

// Whatever is in files, in fields, in names of files and on the command line,
// nothing raw comes out of any command.
func TestNothingSteersTheTerminal(t *testing.T) {
	h := &hostile{t, t.TempDir()}
	store := filepath.Join(h.dir, "store")
	must(t, store, "import", filepath.Join(shared, "drawer.csv"))
	must(t, store, "shelf", "apply", filepath.Join(shared, "shelf.toml"))
	t.Chdir(h.dir) // a name may become that of a file
	export := must(t, store, "export", "--as", "jsonl")
	for i, e := range evil {
		for j, text := range tomlWith(e) {
			if (i+j)%4 == 0 || !testing.Short() {
				h.run(store, "shelf", "apply", h.write("shelf.toml", text))
			}
		}
	}
	const together = 7
	for i := 0; i < len(evil) && (i == 0 || !testing.Short()); i += together {
		e := strings.Join(evil[i:min(len(evil), i+together)], "")
		file := h.write("in.csv", csvWith(e))
		h.run(store, "import", file, "--dry-run", "--batch", e)
		h.run(store, "import", file, "--columns", "h"+e+"="+e)
		h.run(store, "import", file, "--batch", e)
		h.run(store, "import", file+".rejected.csv")
		add := []string{"add"}
		for _, f := range model.Fields() {
			h.run(store, "add", "publisher=x", "number=1", f.Name+"="+e)
			switch f.Name {
			case "publisher", "number", "name", "notes", "tags", "batch", "category", "out_to":
				add = append(add, f.Name+"=x"+e)
			}
		}
		h.run(store, add...)
		h.run(store, "add", e+"="+e)
		h.words(store, e)
	}
	h.exports(export)
	h.reports(store)
	h.every(store, newRoot(&app{}), strings.ReplaceAll(strings.Join(evil, ""), "/", ""))
}

// words gives an evil text wherever a command takes one.
func (h *hostile) words(store, e string) {
	file := filepath.Join(h.dir, "no"+strings.ReplaceAll(e, "/", ""))
	for _, args := range [][]string{
		{e}, {"--" + e}, {"help", e}, {"find", e}, {"find", "--most", e}, {"find", e, "--json"}, {"have", e}, {"have", e, "--json"}, {"shelflist", "--box", e},
		{"split", "--goal", e}, {"split", "--answer", e}, {"out", e}, {"out", "220", "--to", e, "--for", e}, {"out"}, {"out", "--json"}, {"back", e}, {"back", "220"},
		{"out", "--copy", e}, {"export", "--as", e}, {"import", file}, {"import", file, "--take", e}, {"import", file + ".jsonl"}, {"shelf", e}, {"shelf", "apply", file}, {"shelfread", e, e}, {"shelfread", "1", "--seen", e}, {"stocktake", e}, {"refile", e},
		{"measure", e, e}, {"measure", "--box", e}, {"backup", "--list", file}, {"backup", file + "/x"}, {"restore", file}, {"restore", file, "--dry-run"}, {"verify", file},
		{"demo", "--keep", file + "/x"}, {"undo", e}, {"export", "--out", file + "/x"}, {"shelf", "rename", e, e, e}, {"shelf", "rename", "box", "1", "x" + e},
		{"change", "220", e + "=" + e}, {"change", e, "name=x"}, {"change", "220", "name=x" + e}, {"change", "220", "size_chart=" + e}, {"change", "220", "year=" + e},
		{"want", "publisher=x" + e, "number=" + e, "notes=" + e}, {"want", e}, {"want", "--drop", e}, {"arriving", "1", "from=" + e, "expected=" + e},
		{"arriving", "1", "from=x" + e}, {"arrived", e}, {"arrived", "1", "notes=x" + e}, {"surplus", "--gone", e}, {"surplus", e},
		{"person", "x" + e, "bust=92 cm", "notes=" + e}, {"person", "x" + e, "bust=" + e}, {"person", e}, {"person", "--forget", e},
		{"cloth", "x" + e, "width=140 cm", "length=2 m", "notes=" + e}, {"cloth", "x" + e, "width=" + e}, {"cloth", "--forget", e},
		{"fits", "--who", "x" + e, "x"}, {"fits", "--who", e, e}, {"fits", "--who", "x" + e, "--by", e, "x"}, {"enough", "--cloth", "x" + e}, {"enough", e, "--cloth", e},
		{"choose", "--who", e}, {"choose", "--category", e}, {"choose", "--years", e}, {"choose", "--cut", e}, {"choose", e}, {"choose", "--publisher", e},
		{"next", e}, {"next", "220", "for=x" + e, "by=" + e}, {"next", "220", "for=x" + e}, {"next", "--drop", e}, {"sewn", e}, {"sewn", "220", "for=x" + e, "view=" + e, "cloth=" + e, "changed=" + e},
		{"sewn", "220", "when=" + e}, {"sewn", "--entry", "1", "better=x" + e}, {"goal", "x" + e, "of=Dresses; " + e}, {"goal", e}, {"goal", "--drop", e}, {"stats", e},
		{"codes", e}, {"identify", e}, {"whatif", file}, {"whatif", "--box-length", e}, {"whatif", "--years", e}, {"binders", e}, {"worth", "x" + e + "=3"}, {"worth", "x=" + e}, {"worth", e}, {"supplies", e + "=3"}, {"supplies", "envelopes=" + e}, {"batches", "x" + e, "source=" + e, "notes=" + e}, {"batches", e}, {"batches", "x", "about=" + e},
		{"change", "220", "medium=printed", "version=" + e, "paper=" + e}, {"change", "220", "also_in=x" + e},
		{"goal", "x" + e, "of=Dresses"}, {"next", "221", "for=x" + e}, {"want", "publisher=y" + e, "name=y" + e},
	} {
		if !strings.Contains(strings.Join(args, ""), "\x00") { // which no argument can hold
			h.run(store, args...)
		}
	}
	place := filepath.Join(h.dir, "s"+strings.ReplaceAll(e, "/", ""))
	h.run(place, "add", "publisher=x", "number=1")
	h.run(place, "backup", place+".jsonl")
	h.run(place, "backup", "--list")
	h.run(place, "backup", "--list", "--json")
	h.run(place, "verify", place+".jsonl")
	h.run(place, "restore", place+".jsonl")
	h.run(place, "restore", "--undo")
	if err := os.Remove(filepath.Join(place, "badger", "MANIFEST")); err != nil {
		h.t.Error(err)
	}
	h.run(place, "find", "x")
	h.run(place, "restore", "--undo")
	if err := os.RemoveAll(place); err != nil {
		h.t.Error(err)
	}
}

// exports reads exports with an evil text in them: they are refused, and say so
// without repeating it raw.
func (h *hostile) exports(export string) {
	for i, e := range evil {
		for j, text := range jsonlWith(h.t, export, e) {
			if testing.Short() && (i+j)%7 > 0 {
				continue
			}
			file := h.write("in.jsonl", text)
			if out, code := h.run(filepath.Join(h.dir, "none"), "verify", file); code == exitDone && !strings.Contains(export, e) {
				h.t.Errorf("an export with %q in it was taken for whole:\n%s", e, out)
			}
		}
		h.run(filepath.Join(h.dir, "none"), "restore", h.write("in.jsonl", e))
		h.run(filepath.Join(h.dir, "none"), "import", h.write("in.jsonl", export[:len(export)/2]+e))
	}
}

// reports runs what shows all that has come in.
func (h *hostile) reports(store string) {
	h.run(store, "next", "221", "for=x"+evil[0]) // of what is put in more than once, the last is kept
	for _, args := range [][]string{
		{"find", "x"}, {"find", "x", "--most", "10000", "--json"}, {"have", "x"}, {"have", "x", "--json"}, {"shelflist"}, {"shelflist", "--json"}, {"shelf", "show"},
		{"refile"}, {"refile", "--json"}, {"split"}, {"split", "--json"}, {"split", "--answer", "all"}, {"split", "--answer", "all", "--json"},
		{"refile", "--done"}, {"shelflist", "--json"}, {"out"}, {"export", "--as", "csv"}, {"export", "--as", "jsonl"}, {"verify"},
		{"demo"}, {"completion", "bash"}, {"measure"}, {"backup", "--list"}, {"shelfread", "1"}, {"measure", "list"},
		{"want"}, {"want", "--json"}, {"arriving"}, {"arriving", "--json"}, {"surplus"}, {"surplus", "--json"}, {"person"}, {"person", "--json"}, {"cloth"}, {"cloth", "--json"},
		{"next"}, {"next", "--json"}, {"sewn"}, {"sewn", "--json"}, {"goal"}, {"goal", "--json"}, {"stats"}, {"stats", "--json"}, {"choose"}, {"choose", "--json"},
		{"codes"}, {"codes", "--json"}, {"identify"}, {"identify", "--json"}, {"whatif"}, {"whatif", "--years", "2", "--json"}, {"binders"}, {"binders", "--json"}, {"hooks"}, {"hooks", "--json"}, {"worth"}, {"worth", "--json"}, {"packing"}, {"packing", "--json"}, {"supplies"}, {"supplies", "--json"}, {"batches"}, {"batches", "--json"},
		{"undo"}, {"undo"}, {"undo"},
	} {
		out, _ := h.run(store, args...)
		if strings.Contains("want person cloth queue sewn goal", args[0]) && !strings.Contains(out, "red") {
			h.t.Errorf("tuckrow %q shows nothing of what was given:\n%s", args, out)
		}
	}
}

// every runs each command there is with an evil text in each place: also those
// that nobody thought of here.
func (h *hostile) every(store string, cmd *cobra.Command, e string) {
	path := strings.Fields(cmd.CommandPath())[1:]
	for _, c := range cmd.Commands() {
		h.every(store, c, e)
	}
	if !cmd.Runnable() || len(path) == 0 || path[0] == "demo" {
		return
	}
	all := [][]string{nil, {e}, {e, e, e}, {"220", "name=x" + e}, {"1", "2", e}}
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		switch {
		case f.Name == "help":
		case f.Value.Type() == "bool":
			all = append(all, []string{"--" + f.Name}, []string{"--" + f.Name, "x" + e})
		default:
			all = append(all, []string{"--" + f.Name, e}, []string{"x", "--" + f.Name, "x" + e})
		}
	})
	for _, args := range all {
		if path[0] == "print" { // as text: a PDF is not for a terminal
			args = append([]string{"--as", "text"}, args...)
		}
		h.run(store, slices.Concat(path, args)...)
	}
}

// That the test can fail at all.
func TestRawIsFound(t *testing.T) {
	for _, e := range evil {
		if _, found := raw("x" + strings.ReplaceAll(strings.ReplaceAll(e, "\r\n", "\r"), "\n", "\r") + "y\n"); !found {
			t.Errorf("%q passes", e)
		}
	}
	if what, found := raw("Wrap dress – é 👩\u200d🧵\nx\r\n"); found {
		t.Errorf("found %s", what)
	}
}
