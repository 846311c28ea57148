// Package proof reads a PDF back with programs that had no part in making it,
// for tests: pdftoppm and pdftotext of poppler-utils, zbarimg of zbar-tools.
//
// The usual way in is [Pages] to measure what is black, [Words] for what can be
// read where, [Codes] for bar codes, [Golden] for a picture to look at. Where a
// program is missing a test is skipped, and fails where CI is set.
//
// Lengths are millimetres from the top left corner of the page.
package proof

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// need skips a test without a program.
func need(t testing.TB, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err == nil {
		return
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is needed here and is not installed", program)
	}
	t.Skipf("%s is not installed; the PDF is not read back", program)
}

// run gives what a program says of a PDF.
func run(t testing.TB, pdf []byte, program string, args ...string) []byte {
	t.Helper()
	need(t, program)
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		args[i] = strings.ReplaceAll(a, "FILE", file)
	}
	var errs bytes.Buffer
	cmd := exec.Command(program, args...)
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil || strings.Contains(errs.String(), "Error") {
		t.Fatalf("%s %v: %v\n%s", program, args, err, errs.String())
	}
	return out
}

// Page is one page in grey.
type Page struct {
	*image.Gray
	PerMM float64
}

// Pages draws all pages at so many dots to the inch.
func Pages(t testing.TB, pdf []byte, dpi int) []Page {
	t.Helper()
	return pages(t, pdf, dpi)
}

// PageAt draws one page, from 0.
func PageAt(t testing.TB, pdf []byte, n, dpi int) Page {
	t.Helper()
	at := strconv.Itoa(n + 1)
	return pages(t, pdf, dpi, "-f", at, "-l", at)[0]
}

func pages(t testing.TB, pdf []byte, dpi int, which ...string) []Page {
	t.Helper()
	dir := t.TempDir()
	run(t, pdf, "pdftoppm", append(which, "-gray", "-r", strconv.Itoa(dpi), "FILE", filepath.Join(dir, "page"))...)
	files, _ := filepath.Glob(filepath.Join(dir, "page-*.pgm"))
	sort.Strings(files)
	drawn := make([]Page, len(files))
	for i, name := range files {
		drawn[i] = Page{readPGM(t, name), float64(dpi) / 25.4}
	}
	return drawn
}

// readPGM reads a picture as pdftoppm writes it: "P5", width, height and the
// highest grey, then a byte a dot. To pack and unpack it as PNG would take most
// of the time.
func readPGM(t testing.TB, name string) *image.Gray {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var w, h, most int
	if _, err := fmt.Sscanf(string(b[:min(len(b), 40)]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil || most != 255 || len(b) <= w*h {
		t.Fatalf("%s is no picture of %d x %d in 256 greys: %v", name, w, h, err)
	}
	return &image.Gray{Pix: b[len(b)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)}
}

func readPNG(t testing.TB, name string) *image.Gray {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if g, ok := img.(*image.Gray); ok {
		return g
	}
	g := image.NewGray(img.Bounds())
	for y := range g.Rect.Dy() {
		for x := range g.Rect.Dx() {
			g.Set(x, y, img.At(x, y))
		}
	}
	return g
}

// Box is an area in millimetres.
type Box struct{ X, Y, W, H float64 }

// Within tells whether a box lies in another, give or take so much.
func (b Box) Within(o Box, slack float64) bool {
	return b.X >= o.X-slack && b.Y >= o.Y-slack && b.X+b.W <= o.X+o.W+slack && b.Y+b.H <= o.Y+o.H+slack
}

// Black tells whether the dot at a place is more black than white.
func (p Page) Black(x, y float64) bool {
	return p.GrayAt(int(x*p.PerMM), int(y*p.PerMM)).Y < 0x80
}

// Ink is the smallest box round all that is not white in a box; false when
// nothing is.
func (p Page) Ink(in Box) (Box, bool) {
	r := image.Rect(int(in.X*p.PerMM), int(in.Y*p.PerMM), int((in.X+in.W)*p.PerMM+1), int((in.Y+in.H)*p.PerMM+1)).Intersect(p.Rect)
	found := image.Rectangle{}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if p.GrayAt(x, y).Y < 0xc0 {
				found = found.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return Box{float64(found.Min.X) / p.PerMM, float64(found.Min.Y) / p.PerMM, float64(found.Dx()) / p.PerMM, float64(found.Dy()) / p.PerMM}, !found.Empty()
}

// Text is what can be copied out of the PDF, line by line as it stands.
func Text(t testing.TB, pdf []byte) string {
	t.Helper()
	text := string(run(t, pdf, "pdftotext", "-layout", "FILE", "-"))
	// pdftotext marks what runs from right to left.
	return regexp.MustCompile("[\u202a-\u202e]").ReplaceAllString(text, "")
}

// Word is a word on a page.
type Word struct {
	Page int // from 0
	Text string
	Box
}

// Words lists the words with where they are. Here pdftotext gives letters as they
// lie from left to right; they are turned round where they are read otherwise.
func Words(t testing.TB, pdf []byte) []Word {
	t.Helper()
	var doc struct {
		Pages []struct {
			Words []struct {
				XMin float64 `xml:"xMin,attr"`
				YMin float64 `xml:"yMin,attr"`
				XMax float64 `xml:"xMax,attr"`
				YMax float64 `xml:"yMax,attr"`
				Text string  `xml:",chardata"`
			} `xml:"word"`
		} `xml:"body>doc>page"`
	}
	if err := xml.Unmarshal(run(t, pdf, "pdftotext", "-bbox", "FILE", "-"), &doc); err != nil {
		t.Fatal(err)
	}
	const point = 25.4 / 72
	var out []Word
	for n, p := range doc.Pages {
		for _, w := range p.Words {
			out = append(out, Word{n, asRead(w.Text), Box{w.XMin * point, w.YMin * point, (w.XMax - w.XMin) * point, (w.YMax - w.YMin) * point}})
		}
	}
	return out
}

func asRead(word string) string {
	letters := []rune(word)
	if unicode.In(letters[0], unicode.Hebrew, unicode.Arabic) {
		slices.Reverse(letters)
	}
	return string(letters)
}

// Codes reads the bar code in each box of a page, as zbarimg names it:
// "CODE-128:#12"; empty where it finds none. One label is shown at a time, as
// one holds a label before a reader; of many square codes side by side zbarimg
// takes corners of one for those of another.
func Codes(t testing.TB, p Page, boxes []Box) []string {
	t.Helper()
	need(t, "zbarimg")
	file := filepath.Join(t.TempDir(), "label.pgm")
	out := make([]string, len(boxes))
	for i, b := range boxes {
		if err := os.WriteFile(file, p.cut(b), 0o600); err != nil {
			t.Fatal(err)
		}
		says, err := exec.Command("zbarimg", "-q", file).Output()
		if err != nil && len(says) > 0 {
			t.Fatalf("zbarimg: %v", err)
		}
		out[i] = strings.TrimSpace(string(says))
	}
	return out
}

// cut is a piece of the page as a picture, read by readPGM.
func (p Page) cut(b Box) []byte {
	r := image.Rect(int(b.X*p.PerMM), int(b.Y*p.PerMM), int((b.X+b.W)*p.PerMM), int((b.Y+b.H)*p.PerMM)).Intersect(p.Rect)
	out := fmt.Appendf(nil, "P5\n%d %d\n255\n", r.Dx(), r.Dy())
	for y := r.Min.Y; y < r.Max.Y; y++ {
		from := p.PixOffset(r.Min.X, y)
		out = append(out, p.Pix[from:from+r.Dx()]...)
	}
	return out
}
