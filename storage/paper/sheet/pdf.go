package sheet

import (
	"fmt"
	"io"
	"iter"
	"maps"
	"math"
	"slices"

	"github.com/carlos7ags/folio/content"
	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/document"
	"github.com/carlos7ags/folio/font"

	"example.org/tuckrow/storage/paper/lettering"
)

// WritePDF writes sheets as the pages of a PDF and gives how many there were.
// Fonts are embedded with the shapes that are used and no others. A viewer is
// told not to fit pages to the paper.
func WritePDF(w io.Writer, title string, sheets iter.Seq[*Sheet]) (int, error) {
	d := &pdf{Writer: document.NewWriter("1.7"), fonts: map[*lettering.Face]*embedded{}, tree: core.NewPdfDictionary(), resources: core.NewPdfDictionary()}
	d.treeRef, d.resourcesRef = d.AddObject(d.tree), d.AddObject(d.resources)
	kids := core.NewPdfArray()
	for s := range sheets {
		ref, err := d.page(s)
		if err != nil {
			return kids.Len(), err
		}
		kids.Add(ref)
	}
	if kids.Len() == 0 {
		return 0, fmt.Errorf("there is no sheet to write as PDF")
	}
	d.tree.Set("Type", core.NewPdfName("Pages"))
	d.tree.Set("Kids", kids)
	d.tree.Set("Count", core.NewPdfInteger(kids.Len()))
	if err := d.embedFonts(); err != nil {
		return 0, err
	}
	d.catalog(title)
	_, err := d.WriteToWithOptions(w, document.WriteOptions{Deterministic: true, CompressionLevel: compression})
	return kids.Len(), err
}

// compression is the usual level of zlib. The highest makes 2,000 labels 1 %
// smaller (measured), for more work.
const compression = 6

// pdf is a PDF being written.
type pdf struct {
	*document.Writer
	tree, resources       *core.PdfDictionary
	treeRef, resourcesRef *core.PdfIndirectReference
	fonts                 map[*lettering.Face]*embedded
	order                 []*embedded
}

// embedded is a font in a PDF.
type embedded struct {
	*font.EmbeddedFont
	name string
	of   map[uint16]rune // what each shape stands for where nothing else is said
}

func (d *pdf) page(s *Sheet) (*core.PdfIndirectReference, error) {
	c := content.NewStream()
	for _, l := range s.Lines {
		s.stroke(c, l)
	}
	for _, code := range s.Codes {
		for _, b := range code.Bars {
			c.Rectangle(points(b.X), points(s.H-b.Y-b.H), points(b.W), points(b.H))
		}
		c.Fill()
	}
	for _, t := range s.Texts {
		if err := d.text(c, s, t); err != nil {
			return nil, err
		}
	}
	page := core.NewPdfDictionary()
	page.Set("Type", core.NewPdfName("Page"))
	page.Set("Parent", d.treeRef)
	zero := core.NewPdfInteger(0)
	page.Set("MediaBox", core.NewPdfArray(zero, zero, core.NewPdfReal(points(s.W)), core.NewPdfReal(points(s.H))))
	page.Set("Resources", d.resourcesRef)
	page.Set("Contents", d.AddObject(c.ToPdfStream()))
	return d.AddObject(page), nil
}

// points gives millimetres as points, to a thousandth of one.
func points(mm float64) float64 { return math.Round(mm/lettering.Point*1000) / 1000 }

func (s *Sheet) stroke(c *content.Stream, l Stroke) {
	c.SetLineWidth(points(l.Width))
	if l.Dashed {
		c.SetDashPattern([]float64{points(2), points(1.5)}, 0)
	}
	c.MoveTo(points(l.X1), points(s.H-l.Y1))
	c.LineTo(points(l.X2), points(s.H-l.Y2))
	c.Stroke()
	if l.Dashed {
		c.SetDashPattern(nil, 0)
	}
}

// text draws a line of text, run after run from where the last one ended.
func (d *pdf) text(c *content.Stream, s *Sheet, t Text) error {
	if len(t.Line.Runs) == 0 {
		return nil
	}
	c.BeginText()
	x, y := points(t.X), points(s.H-t.Y)
	if t.Down {
		c.SetTextMatrix(0, -1, 1, 0, x, y)
	} else {
		c.SetTextMatrix(1, 0, 0, 1, x, y)
	}
	for _, r := range t.Line.Runs {
		f, err := d.font(r.Face)
		if err != nil {
			return err
		}
		c.SetFont(f.name, t.Size)
		f.show(c, r, t.Size)
	}
	c.EndText()
	return nil
}

func (d *pdf) font(face *lettering.Face) (*embedded, error) {
	if f := d.fonts[face]; f != nil {
		return f, nil
	}
	parsed, err := font.ParseTTF(face.Data())
	if err != nil {
		return nil, fmt.Errorf("embedding the font %s: %w", face.File, err)
	}
	f := &embedded{font.NewEmbeddedFont(parsed), fmt.Sprintf("F%d", len(d.order)+1), map[uint16]rune{}}
	d.fonts[face] = f
	d.order = append(d.order, f)
	return f, nil
}

// show draws a run.
func (f *embedded) show(c *content.Stream, r lettering.Run, size float64) {
	p := pen{Stream: c, font: f, size: size}
	for from := 0; from < len(r.Glyphs); {
		to := from + 1
		for to < len(r.Glyphs) && r.Glyphs[to].Of == "" {
			to++
		}
		cluster := r.Glyphs[from:to]
		if f.plain(cluster) {
			p.draw(cluster)
		} else {
			p.flush()
			c.BeginMarkedContentActualText(cluster[0].Of)
			p.draw(cluster)
			p.flush()
			c.EndMarkedContent()
		}
		from = to
	}
	p.end()
}

// plain tells whether a cluster is one shape that says by itself what it stands
// for. Of others that is put beside them, for who copies or searches.
func (f *embedded) plain(cluster []lettering.Glyph) bool {
	g := cluster[0]
	return len(cluster) == 1 && g.ID != 0 && string(f.stands(g)) == g.Of
}

// stands gives the character that a shape stands for throughout the PDF where
// nothing else is said: the first one that it was used for.
func (f *embedded) stands(g lettering.Glyph) rune {
	of, known := f.of[g.ID]
	if !known {
		of = zeroWidth
		for _, r := range g.Of {
			of = r
			break
		}
		f.of[g.ID] = of
	}
	return of
}

// zeroWidth is a character that is not seen, for shapes that only add to
// another.
const zeroWidth = '\u200b'

// pen writes the shapes of a run, each where the shaper put it.
type pen struct {
	*content.Stream
	font  *embedded
	size  float64
	line  []content.TextArrayElement
	shift float64 // from where the PDF has the pen to where it should be, in thousandths
	rise  float64 // ems above the baseline
}

func (p *pen) draw(glyphs []lettering.Glyph) {
	for _, g := range glyphs {
		p.raise(g.Y)
		p.move(g.X * 1000)
		code := p.font.EncodeGIDs([]uint16{g.ID}, string(p.font.stands(g)))
		if n := len(p.line); n > 0 && !p.line[n-1].IsAdjustment {
			p.line[n-1].HexData = append(p.line[n-1].HexData, code...)
		} else {
			p.line = append(p.line, content.TextArrayElement{HexData: code})
		}
		p.shift += (g.Advance-g.X)*1000 - float64(p.font.width(g.ID))
	}
}

// move shifts the pen, by whole thousandths; what is over is kept for the next
// time.
func (p *pen) move(more float64) {
	p.shift += more
	if by := math.Round(p.shift); by != 0 {
		p.line = append(p.line, content.TextArrayElement{IsAdjustment: true, Adjustment: -by})
		p.shift -= by
	}
}

func (p *pen) raise(to float64) {
	if to != p.rise {
		p.flush()
		p.rise = to
		p.SetTextRise(math.Round(to*p.size*1000) / 1000)
	}
}

func (p *pen) flush() {
	if len(p.line) > 0 {
		p.ShowTextArrayHex(p.line)
		p.line = nil
	}
}

func (p *pen) end() {
	p.move(0)
	p.flush()
	p.raise(0)
}

// width is how far the PDF says that a shape advances, in thousandths.
func (f *embedded) width(id uint16) int {
	return f.Face().GlyphAdvance(id) * 1000 / f.Face().UnitsPerEm()
}

func (d *pdf) embedFonts() error {
	fonts := core.NewPdfDictionary()
	for _, f := range d.order {
		file, err := f.subset()
		if err != nil {
			return err
		}
		add := func(o core.PdfObject) *core.PdfIndirectReference {
			if stream, ok := o.(*core.PdfStream); ok && stream.Dict.Get("Length1") != nil {
				stream.Data = file
				stream.Dict.Set("Length1", core.NewPdfInteger(len(file)))
			}
			return d.AddObject(o)
		}
		fonts.Set(f.name, d.AddObject(f.BuildObjects(add)))
	}
	d.resources.Set("Font", fonts)
	return nil
}

// subset is the font with the shapes that are used. The library would make the
// same, but for the font's own table of characters: where two shapes stand for
// one, as in Arabic, it takes now the one and now the other. A PDF does not look
// at that table, so here each shape stands for a character of its own.
func (f *embedded) subset() ([]byte, error) {
	const private = '\uE000'
	shapes := make(map[uint16]rune, len(f.of))
	for i, id := range slices.Sorted(maps.Keys(f.of)) {
		shapes[id] = private + rune(i)
	}
	file, err := font.Subset(f.Face().RawData(), shapes)
	if err != nil {
		return nil, fmt.Errorf("embedding the font %s: %w", f.Face().PostScriptName(), err)
	}
	return file, nil
}

func (d *pdf) catalog(title string) {
	viewer := core.NewPdfDictionary()
	viewer.Set("PrintScaling", core.NewPdfName("None"))
	catalog := core.NewPdfDictionary()
	catalog.Set("Type", core.NewPdfName("Catalog"))
	catalog.Set("Pages", d.treeRef)
	catalog.Set("ViewerPreferences", viewer)
	d.SetRoot(d.AddObject(catalog))
	info := core.NewPdfDictionary()
	info.Set("Title", core.NewPdfTextString(title))
	info.Set("Producer", core.NewPdfTextString("tuckrow"))
	d.SetInfo(d.AddObject(info))
}
