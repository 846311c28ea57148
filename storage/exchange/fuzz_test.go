package exchange

import (
	"bytes"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
)

// What is read of any file is stored, written, read and written again; the
// second writing must be the first, and nothing may panic.
func FuzzReadCSV(f *testing.F) {
	f.Add("publisher,number,name\nQuillon,K12,Cape\n", "")
	f.Add("Company;No.;Title;Box;Pos\nHarrow & Pell;6123;\"Wrap; dress\";1;2\n", "Title=notes")
	f.Add("publisher,number,pattern,accession,hook,box,tags,out_to\nQuillon,1,7,9,door 3,,a; b,Ada\nQuillon,1,7,,,1,'=1,\n", "")
	f.Fuzz(func(t *testing.T, file, columns string) {
		told, err := ParseColumns(columns)
		if err != nil {
			return
		}
		im, err := ReadCSV(strings.NewReader(file), told)
		if err != nil {
			if !model.IsInput(err) {
				t.Fatalf("got %v, want an error for the user", err)
			}
			return
		}
		p := im.Plan(model.NewCollection(), "batch", "file.csv")
		if err := im.WriteRejected(&bytes.Buffer{}); err != nil {
			t.Fatalf("the rejected rows cannot be written: %v", err)
		}
		c, _, err := model.NewCollection().Apply(p.Change, day)
		if err != nil {
			t.Fatalf("what was planned is refused: %v", err)
		}
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		if n := len(im.Entries) + len(im.Rejected); n < c.Copies().Len() {
			t.Fatalf("%d copies came of %d rows", c.Copies().Len(), n)
		}
		again, other, _ := taken(t, model.NewCollection(), csvOf(t, c), "")
		if csvOf(t, again) != csvOf(t, c) || len(other.Rejected) > 0 {
			t.Fatalf("an export came back as\n%s\nit was\n%s\nrejected %s", csvOf(t, again), csvOf(t, c), rejected(other))
		}
	})
}

func FuzzReadJSONL(f *testing.F) {
	f.Add(strings.Join(unsealed(jsonlOf(f, furnished(f))), "\n"), true)
	f.Add(strings.Join(unsealed(stamped(f, furnished(f), time.Unix(1e9, 0))), "\n"), true)
	f.Add(jsonlOf(f, model.NewCollection()), false)
	f.Add("{\"kind\":\"tuckrow\",\"format\":1,\"counters\":{}}\n{\"kind\":\"walls\"}", true)
	f.Fuzz(func(t *testing.T, file string, seal bool) {
		if seal { // else hardly a file would get past its checksum
			file = sealed(file)
			if n := strings.Count(file, "\n"); n > 2 {
				file = strings.Replace(file, "\"count\":1,", "\"count\":"+strconv.Itoa(n-1)+",", 1)
			}
		}
		c, err := ReadJSONL(strings.NewReader(file))
		if err != nil {
			return
		}
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		out := jsonlOf(t, c)
		again, err := ReadJSONL(strings.NewReader(out))
		if err != nil || jsonlOf(t, again) != out {
			t.Fatalf("what was read cannot be read again: %v\n%s", err, out)
		}
		if strings.ContainsFunc(csvOf(t, c), func(r rune) bool { return r < ' ' && r != '\r' && r != '\n' || r == 0x9b }) {
			t.Fatalf("a control character came in:\n%q", csvOf(t, c))
		}
		if got := shown(t, applied(t, c, shown(t, c))); got != shown(t, c) {
			t.Fatalf("the shelf came back as\n%s", got)
		}
	})
}

func FuzzReadShelf(f *testing.F) {
	f.Add(shown(f, furnished(f)))
	f.Add("working_space = \"60mm\"\n[thickness]\ncut = 8.5\n[[box]]\nname = 'ς'\nlength = 1e2\n[[hooks]]\nname='door'\nhooks=3\neach=3\n")
	f.Fuzz(func(t *testing.T, file string) {
		spec, err := ReadShelf(strings.NewReader(file))
		if err == nil {
			var c *model.Collection
			if c, _, err = model.NewCollection().Apply(&model.SetShelf{Spec: spec}, day); err == nil {
				if got := shown(t, applied(t, c, shown(t, c))); got != shown(t, c) {
					t.Fatalf("shown again it is\n%s\nit was\n%s", got, shown(t, c))
				}
				return
			}
		}
		if !model.IsInput(err) {
			t.Fatalf("got %v, want an error for the user", err)
		}
	})
}
