package report

import (
	"reflect"
	"strings"
	"unicode"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
)

// jsonEdit is one record that differs, exactly. Before is null where it was
// added, after where it went. A record is an object with the fields of the
// model, named as in the text's grammar where it names them; a number that may
// be absent is null then, a point is [x, y].
type jsonEdit struct {
	Piece  string `json:"piece"`
	Kind   string `json:"kind"`
	Name   string `json:"name"`
	Before any    `json:"before"`
	After  any    `json:"after"`
}

func editsJSON(edits []compare.Edit) []jsonEdit {
	out := []jsonEdit{}
	for _, e := range edits {
		out = append(out, jsonEdit{e.Piece, e.Kind, e.Name, recordJSON(e.Before), recordJSON(e.After)})
	}
	return out
}

func recordJSON(v any) any {
	if v == nil {
		return nil
	}
	return valueJSON(reflect.ValueOf(v))
}

// valueJSON turns a value of the model into plain data, without its places.
func valueJSON(v reflect.Value) any {
	switch x := v.Interface().(type) {
	case pattern.Opt:
		return maybe(x)
	case pattern.SpotKind:
		return spotKind(x)
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		return valueJSON(v.Elem())
	case reflect.Slice:
		list := make([]any, v.Len())
		for i := range list {
			list[i] = valueJSON(v.Index(i))
		}
		return list
	case reflect.Struct:
		if v.NumField() == 2 && v.Type().Field(0).Name == "X" {
			return [2]number{known(v.Field(0).Float()), known(v.Field(1).Float())}
		}
		object := map[string]any{}
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && f.Type != reflect.TypeFor[diag.Place]() {
				object[lowered(f.Name)] = valueJSON(v.Field(i))
			}
		}
		return object
	case reflect.Float64:
		return known(v.Float())
	}
	return v.Interface()
}

// spotKind names the ways to give a spot.
func spotKind(k pattern.SpotKind) string {
	switch k {
	case pattern.FromLevel:
		return "from-level"
	case pattern.FromCorner:
		return "from-corner"
	}
	return "at-level"
}

// lowered turns a field's name into words: SameWay into same-way.
func lowered(name string) string {
	var b strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) && i > 0 && !unicode.IsUpper(rune(name[i-1])) {
			b.WriteByte('-')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}
