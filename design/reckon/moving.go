package reckon

import (
	"reflect"
	"strings"

	"plansheaf/design/formula"
	"plansheaf/design/plan"
)

// A mover tells what of a plan may change with where its motions stand.
type mover struct {
	p     *plan.Plan
	names map[string]bool // of values: whether they may
	all   bool            // sizes of parts may, so that anything may
}

// Moves reports whether a quantity may be another one with motions elsewhere, under
// whatever case: it names a motion, what follows from one, or something of which that is
// not plain.
func (r *Reckoning) Moves(q plan.Quantity) bool {
	for _, f := range q.All() {
		if f.Given() && r.shapes.mover(r.Plan).expr(f.Expr) {
			return true
		}
	}
	return false
}

// mover is that of a plan, made once.
func (s *Shapes) mover(p *plan.Plan) *mover {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.moving == nil || s.moving.p != p {
		s.moving = newMover(p)
	}
	return s.moving
}

// newMover looks at every value, so that nothing is written when it is asked.
func newMover(p *plan.Plan) *mover {
	m := &mover{p: p, names: map[string]bool{}}
	m.all = m.within(reflect.ValueOf([]any{p.Parts, p.Stock, p.Materials}), 0)
	for _, a := range p.Assemblies { // counts of parts
		for _, use := range a.Holds {
			m.all = m.all || m.within(reflect.ValueOf(use.Count), 0)
		}
	}
	for _, v := range p.Values {
		m.name(v.ID.Text, 0)
	}
	return m
}

// expr reports whether a formula may change.
func (m *mover) expr(e *formula.Expr) bool { return m.all || m.leads(e, 0) }

// moves reports whether what a name stands for may change.
func (m *mover) moves(name string) bool { return m.all || m.name(name, 0) }

func (m *mover) leads(e *formula.Expr, depth int) bool {
	if len(e.Calls()) > 0 {
		return true
	}
	for _, use := range e.Names() {
		if use.Group || use.In != "" || m.name(use.Text, depth) {
			return true
		}
	}
	return false
}

// name reports whether what a name stands for may change. Parts and stock do not, as long
// as nothing in them does, which is found out first.
func (m *mover) name(text string, depth int) bool {
	head, _, dotted := strings.Cut(text, ".")
	if dotted {
		return m.p.Part(head) == nil && m.p.StockOf(head) == nil
	}
	if moves, known := m.names[head]; known {
		return moves
	}
	v := m.p.Value(head)
	if v == nil || depth > maxDepth {
		return true
	}
	m.names[head] = true // of one that depends on itself nothing is known
	moves := false
	for _, q := range []plan.Quantity{v.Is, v.From, v.To} {
		for _, f := range q.All() {
			moves = moves || f.Given() && m.leads(f.Expr, depth+1)
		}
	}
	m.names[head] = moves
	return moves
}

// conditions are what decides which part is bought, on which no size hangs.
var conditions = reflect.TypeFor[[]plan.Substitute]()

// within reports whether any formula in a value may change.
func (m *mover) within(v reflect.Value, depth int) bool {
	if depth > maxDepth {
		return true
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return false
		}
		if e, ok := v.Interface().(*formula.Expr); ok {
			return m.leads(e, 0)
		}
		return m.within(v.Elem(), depth+1)
	case reflect.Slice, reflect.Array:
		if plain(v.Type().Elem().Kind()) || v.Type() == conditions {
			return false
		}
		for i := range v.Len() {
			if m.within(v.Index(i), depth+1) {
				return true
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if !plain(v.Field(i).Kind()) && m.within(v.Field(i), depth+1) {
				return true
			}
		}
	case reflect.Map, reflect.Func, reflect.Chan:
		return v.Len() > 0
	}
	return false
}

// plain reports whether values of a kind hold no formula.
func plain(k reflect.Kind) bool { return k <= reflect.Complex128 || k == reflect.String }
