package exchange

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// kindOpens is how the line of a record begins.
const kindOpens = `{"kind":"`

// AppendRecord appends a record as one line of JSON, its kind in front: the way
// in which exports and the journal write records down.
func AppendRecord(dst []byte, r model.Record) ([]byte, error) {
	kind, _ := r.Key()
	b := bytes.NewBuffer(append(append(append(dst, kindOpens...), kind.String()...), '"'))
	at := b.Len()
	if err := writeLine(b, r); err != nil {
		return dst, err
	}
	line := b.Bytes()
	// The brace that opens the record becomes the comma behind the kind.
	if line[at] = ','; line[at+1] == '}' {
		line = append(line[:at], line[at+1:]...)
	}
	return line, nil
}

// ParseRecord reads what AppendRecord wrote. A field that is not known, or a
// text that no field of ours would have let in, is an error.
func ParseRecord(line []byte) (model.Record, error) {
	rest, ok := bytes.CutPrefix(line, []byte(kindOpens))
	name, fields, closed := bytes.Cut(rest, []byte(`"`))
	if !ok || !closed {
		return nil, fmt.Errorf("it does not begin with %s", kindOpens)
	}
	kind, ok := model.KindNamed(string(name))
	if !ok {
		return nil, fmt.Errorf("there is no kind %q", name)
	}
	fields = bytes.TrimPrefix(fields, []byte(","))
	r := kind.New()
	if err := strict(append([]byte("{"), fields...), r); err != nil {
		return nil, err
	}
	if text, bad := dirty(reflect.ValueOf(r)); bad {
		return nil, fmt.Errorf("the text %q holds what no field may: control characters, line breaks or spaces too many", text)
	}
	return r, nil
}

// strict reads one line as one value of which every field is known: what is
// not known would be lost.
func strict(line []byte, v any) error {
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(v); err != nil {
		return err
	}
	if rest := bytes.TrimSpace(line[dec.InputOffset():]); len(rest) > 0 {
		return fmt.Errorf("there is more behind the record: %q", rest)
	}
	return nil
}

// dirty finds a text that no field of ours would have let in: with control
// characters, say, which could reach a terminal.
func dirty(v reflect.Value) (string, bool) {
	switch v.Kind() {
	case reflect.String:
		return v.String(), words.Clean(v.String()) != v.String()
	case reflect.Pointer:
		if !v.IsNil() {
			return dirty(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if text, bad := dirty(v.Field(i)); bad {
				return text, true
			}
		}
	case reflect.Slice:
		if k := v.Type().Elem().Kind(); k != reflect.String && k != reflect.Struct {
			return "", false // numbers, of which there can be many
		}
		for i := range v.Len() {
			if text, bad := dirty(v.Index(i)); bad {
				return text, true
			}
		}
	}
	return "", false
}
