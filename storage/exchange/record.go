package exchange

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// AppendRecord appends a record as one line of JSON, its kind in front: the way
// in which exports and the journal write records down.
func AppendRecord(dst []byte, r model.Record) ([]byte, error) {
	var b bytes.Buffer
	if err := writeLine(&b, r); err != nil {
		return dst, err
	}
	kind, _ := r.Key()
	dst = append(append(append(dst, `{"kind":"`...), kind.String()...), '"')
	fields := b.Bytes()[1:]
	if fields[0] != '}' {
		dst = append(dst, ',')
	}
	return append(dst, fields...), nil
}

// ParseRecord reads what AppendRecord wrote. A field that is not known, or a
// text that no field of ours would have let in, is an error.
func ParseRecord(line []byte) (model.Record, error) {
	var k struct {
		Kind string `json:"kind"`
	}
	if err := json.Unmarshal(line, &k); err != nil {
		return nil, err
	}
	kind, ok := model.KindNamed(k.Kind)
	if !ok {
		return nil, fmt.Errorf("there is no kind %q", k.Kind)
	}
	line = bytes.Replace(line, []byte(`"kind":"`+k.Kind+`",`), nil, 1)
	line = bytes.Replace(line, []byte(`"kind":"`+k.Kind+`"`), nil, 1)
	r := kind.New()
	if err := strict(line, r); err != nil {
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
