package storage

import (
	"math"
	"strings"
	"unicode/utf8"

	"example.org/tuckrow/model"
)

// quick reads the records of patterns and copies, which nearly all records are,
// as seal writes them: a map of numbers, texts, lists of texts and truths, in
// the order of its keys. Whatever it meets that is not so it leaves to the
// library, which also says what is wrong; what both read is the same. It is
// there because the library, which is for any type, takes several times as long,
// and an allocation for each text and record.
type quick struct {
	b        []byte
	at       int
	last     uint64 // key
	odd      bool   // met what is for the library
	text     strings.Builder
	patterns []model.Pattern
	copies   []model.Copy
}

// Texts and records are cut from pieces that hold many. What is left of a piece
// is let go together, so they are small.
const (
	textPiece   = 32 << 10 // bytes
	recordPiece = 256
)

// record reads the body of a record, or gives nil.
func (q *quick) record(kind model.Kind, body []byte) model.Record {
	switch kind {
	case model.KindPattern:
		if len(q.patterns) == 0 {
			q.patterns = make([]model.Pattern, recordPiece)
		}
		if p := &q.patterns[0]; q.pattern(body, p) {
			q.patterns = q.patterns[1:]
			return p
		}
		q.patterns[0] = model.Pattern{}
	case model.KindCopy:
		if len(q.copies) == 0 {
			q.copies = make([]model.Copy, recordPiece)
		}
		if cp := &q.copies[0]; q.copy(body, cp) {
			q.copies = q.copies[1:]
			return cp
		}
		q.copies[0] = model.Copy{}
	}
	return nil
}

func (q *quick) pattern(body []byte, p *model.Pattern) bool {
	for n := q.begin(body); n > 0; n-- {
		switch q.key() {
		case 1:
			p.ID = model.PatternID(q.number(math.MaxUint32))
		case 2:
			p.Publisher = model.PublisherID(q.number(math.MaxUint32))
		case 3:
			p.Number = q.string()
		case 4:
			p.Name = q.string()
		case 5:
			p.FilesAs = q.string()
		case 6:
			p.Category = model.CategoryID(q.number(math.MaxUint32))
		case 7:
			p.SizeRange = q.string()
		case 8:
			p.Year = int(q.number(math.MaxInt))
		case 9:
			p.DatedBy = q.string()
		case 10:
			p.Barcode = q.string()
		case 11:
			p.Tags = q.strings()
		default:
			return false
		}
	}
	return q.ended()
}

func (q *quick) copy(body []byte, cp *model.Copy) bool {
	for n := q.begin(body); n > 0; n-- {
		switch q.key() {
		case 1:
			cp.Accession = model.Accession(q.number(math.MaxUint32))
		case 2:
			cp.Pattern = model.PatternID(q.number(math.MaxUint32))
		case 3:
			cp.Batch = model.BatchID(q.number(math.MaxUint32))
		case 4:
			cp.Added = model.Date(q.string())
		case 5:
			cp.Medium = model.Medium(q.string())
		case 6:
			cp.Cut = model.Cut(q.string())
		case 7:
			cp.Complete = q.string()
		case 8:
			cp.Bulky = q.truth()
		case 9:
			cp.Thickness = model.Length(q.number(math.MaxInt64))
		case 10:
			cp.Home = model.Home(q.string())
		case 11:
			cp.Sleeve = model.Sleeve(q.string())
		case 12:
			cp.Enveloped = q.truth()
		case 13:
			cp.Grouped = q.truth()
		case 16:
			cp.Notes = q.string()
		case 17:
			cp.Left = q.string()
		case 19:
			cp.Value = model.Money(q.number(math.MaxInt64))
		case 21:
			cp.Missing = model.Date(q.string())
		default:
			return false
		}
	}
	return q.ended()
}

// The heads of CBOR items: what kind of item it is, in the upper three bits
// (RFC 8949, 3.1).
const (
	cborNumber = 0
	cborText   = 3
	cborList   = 4
	cborMap    = 5
	cborFalse  = 0xf4
	cborTrue   = 0xf5
)

// begin gives how many fields there are.
func (q *quick) begin(body []byte) uint64 {
	q.b, q.at, q.last, q.odd = body, 0, 0, false
	return q.head(cborMap)
}

// ended tells whether all was read, and was as it is written.
func (q *quick) ended() bool { return !q.odd && q.at == len(q.b) }

// head reads the head of an item and gives the number in it.
func (q *quick) head(kind byte) uint64 {
	if q.at >= len(q.b) || q.b[q.at]>>5 != kind {
		q.odd = true
		return 0
	}
	n := uint64(q.b[q.at] & 31)
	q.at++
	if n < 24 {
		return n
	}
	size := 1 << (n - 24)
	if n > 27 || size > len(q.b)-q.at {
		q.odd = true
		return 0
	}
	n = 0
	for range size {
		n, q.at = n<<8|uint64(q.b[q.at]), q.at+1
	}
	return n
}

// key reads the key of the next field, 0 when there is anything amiss.
func (q *quick) key() uint64 {
	k := q.head(cborNumber)
	if q.odd || k <= q.last {
		q.odd = true
		return 0
	}
	q.last = k
	return k
}

func (q *quick) number(most uint64) uint64 {
	n := q.head(cborNumber)
	q.odd = q.odd || n > most
	return n
}

func (q *quick) truth() bool {
	if q.at >= len(q.b) || q.b[q.at] != cborTrue && q.b[q.at] != cborFalse {
		q.odd = true
		return false
	}
	q.at++
	return q.b[q.at-1] == cborTrue
}

func (q *quick) string() string {
	n := q.head(cborText)
	if q.odd || n > uint64(len(q.b)-q.at) || !utf8.Valid(q.b[q.at:q.at+int(n)]) {
		q.odd = true
		return ""
	}
	if q.text.Cap()-q.text.Len() < int(n) {
		q.text = strings.Builder{}
		q.text.Grow(max(textPiece, int(n)))
	}
	from := q.text.Len()
	q.text.Write(q.b[q.at : q.at+int(n)])
	q.at += int(n)
	return q.text.String()[from:]
}

func (q *quick) strings() []string {
	n := q.head(cborList)
	if q.odd || n > uint64(len(q.b)-q.at) { // each takes a byte at least
		q.odd = true
		return nil
	}
	list := make([]string, n)
	for i := range list {
		list[i] = q.string()
	}
	return list
}
