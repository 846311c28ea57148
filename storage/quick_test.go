package storage

import (
	"reflect"
	"testing"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

// TestQuickReadsAsTheLibraryDoes: what the quick way of reading a record makes
// of its bytes is what the CBOR library makes of them, whole records and ones
// with bytes altered, cut off or put in; and what it is there for it does read.
func TestQuickReadsAsTheLibraryDoes(t *testing.T) {
	var q quick // one for all, as in use
	rapid.Check(t, func(t *rapid.T) {
		r, plain := anyRecord(t)
		kind, _ := r.Key()
		body, err := encoder.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if got := q.record(kind, body); got == nil && plain {
			t.Fatalf("%+v was left to the library", r)
		}
		for range rapid.IntRange(0, 3).Draw(t, "harm") {
			at := rapid.IntRange(0, len(body)-1).Draw(t, "at")
			switch rapid.SampledFrom([]string{"alter", "cut", "put in"}).Draw(t, "how") {
			case "alter":
				body[at] = rapid.Byte().Draw(t, "byte")
			case "cut":
				body = body[:max(at, 1)]
			case "put in":
				body = append(body[:at:at], append([]byte{rapid.Byte().Draw(t, "byte")}, body[at:]...)...)
			}
		}
		got := q.record(kind, body)
		if got == nil {
			return // the library's
		}
		want := kind.New()
		if err := decodeBody(body, want); err != nil {
			t.Fatalf("%x was read as %+v, and the library says: %v", body, got, err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%x was read as %+v, and the library reads %+v", body, got, want)
		}
	})
}

// anyRecord draws a pattern or a copy; plain if it has only what is quickly read.
func anyRecord(t *rapid.T) (r model.Record, plain bool) {
	text := func(what string) string { return rapid.StringN(0, 40, 300).Draw(t, what) }
	number := func(what string) uint32 { return rapid.Uint32().Draw(t, what) }
	truth := func(what string) bool { return rapid.Bool().Draw(t, what) }
	plain = rapid.IntRange(0, 3).Draw(t, "more") > 0
	if truth("a pattern") {
		p := &model.Pattern{ID: model.PatternID(number("id")), Publisher: model.PublisherID(number("publisher")), Number: text("number"),
			Name: text("name"), FilesAs: text("files as"), Category: model.CategoryID(number("category")), SizeRange: text("sizes"),
			Year: rapid.IntRange(0, 3000).Draw(t, "year"), DatedBy: text("dated by"), Barcode: text("barcode"),
			Tags: rapid.SliceOfN(rapid.String(), 0, 30).Draw(t, "tags")}
		if !plain {
			p.Pieces, p.Also = []string{text("piece")}, []model.CategoryID{3}
		}
		return p, plain
	}
	cp := &model.Copy{Accession: model.Accession(number("id")), Pattern: model.PatternID(number("pattern")), Batch: model.BatchID(number("batch")),
		Added: model.Date(text("added")), Medium: model.Medium(text("medium")), Cut: model.Cut(text("cut")), Complete: text("complete"),
		Bulky: truth("bulky"), Thickness: model.Length(rapid.Int64Min(0).Draw(t, "thickness")), Home: model.Home(text("home")), Sleeve: model.Sleeve(text("sleeve")),
		Enveloped: truth("enveloped"), Grouped: truth("grouped"), Notes: text("notes"), Left: text("left"),
		Value: model.Money(rapid.Int64Min(0).Draw(t, "value")), Missing: model.Date(text("missing"))}
	if !plain {
		cp.Hook, cp.Out, cp.Thickness = model.Hook{Row: 1, N: 2}, &model.Out{To: text("to")}, -1
	}
	return cp, plain
}

// TestQuickLeavesToTheLibrary: what a field cannot hold, what is not in the form
// in which it is written, and what goes on behind its end. The bytes are put
// together by RFC 8949, section 3.
func TestQuickLeavesToTheLibrary(t *testing.T) {
	for what, body := range map[string]string{
		"a number of more than 32 bits":    "\xa1\x01\x1b\x00\x00\x00\x01\x00\x00\x00\x00",
		"a year of more than 63 bits":      "\xa1\x08\x1b\x80\x00\x00\x00\x00\x00\x00\x00",
		"text that is no UTF-8":            "\xa1\x04\x61\xff",
		"text that goes on behind the end": "\xa1\x04\x65abc",
		"text of the greatest length":      "\xa1\x04\x7b\xff\xff\xff\xff\xff\xff\xff\xff",
		"a list of the greatest length":    "\xa1\x0b\x9b\xff\xff\xff\xff\xff\xff\xff\xff",
		"a text of no fixed length":        "\xa1\x04\x7f\x61a\xff",
		"a field that comes twice":         "\xa2\x01\x02\x01\x03",
		"a field not known":                "\xa1\x18\x63\x01",
		"a null":                           "\xa1\x0b\xf6",
		"more behind it":                   "\xa1\x01\x02\x00",
		"no map":                           "\x01",
		"nothing":                          "",
	} {
		if got := new(quick).record(model.KindPattern, []byte(body)); got != nil {
			t.Errorf("%s: %x was read as %+v", what, body, got)
		}
	}
}
