package formula

import (
	"strings"

	"plansheaf/design/quantity"
)

// sum adds a term up for each thing of a group or list, or for those where a
// condition holds. Where it holds for none the sum is 0 of what the term of the
// first thing measures.
func (ev *evaluator) sum(n *Node) (quantity.Value, *Error) {
	rounds, failed := ev.rounds(n)
	if failed != nil {
		return quantity.Value{}, failed
	}
	var total quantity.Value
	first := ""
	for i, l := range rounds {
		inner := ev.holding(l)
		inner.trail = ev.follow(n, i)
		term, counts, failed := inner.term(n)
		if failed != nil {
			return total, inRound(failed, n, l)
		}
		if !counts {
			continue
		}
		if first == "" {
			total, first = term, l.says()
			continue
		}
		next, err := total.Add(term)
		if err != nil {
			return total, ev.fail(n.Args[1], err, "%s: %s; it is %s for %s = %s, and %s for %s", ev.expr.text(n.Args[1]), err,
				quantity.Text(total, quantity.Metric), n.Local, first, quantity.Text(term, quantity.Metric), l.says())
		}
		total = next
	}
	if first == "" {
		return ev.nothing(n, rounds)
	}
	return total, nil
}

// term is what one round adds; counts is false where the condition leaves it out.
func (ev *evaluator) term(n *Node) (v quantity.Value, counts bool, failed *Error) {
	if len(n.Args) > 2 {
		if counts, failed = ev.truth(n.Args[2]); failed != nil || !counts {
			return v, false, failed
		}
	}
	v, failed = ev.value(n.Args[1])
	return v, true, failed
}

// nothing is a sum without a term: 0, of the kind that the term has.
func (ev *evaluator) nothing(n *Node, rounds []local) (quantity.Value, *Error) {
	ev.aside++
	defer func() { ev.aside-- }()
	if len(rounds) > 0 {
		if missing := ev.hadByNone(n, rounds); missing != nil {
			return quantity.Value{}, ev.fail(missing, quantity.ErrUndefined, "nothing that the sum goes through has %s", missing.Text)
		}
	}
	for _, l := range rounds {
		if v, failed := ev.holding(l).value(n.Args[1]); failed == nil {
			v.SI = 0
			return v, nil
		}
	}
	why := "there is nothing to add up"
	if len(rounds) > 0 {
		why += ", since " + ev.expr.text(n.Args[2]) + " holds for none, and nothing tells what the sum would measure"
	}
	return quantity.Value{}, ev.fail(n, quantity.ErrUndefined, "%s: %s", ev.expr.text(n), why)
}

// hadByNone is a name that a sum's condition asks for by has and that no round has;
// nil where there is none. It is likely mistyped, and the sum's 0 would not tell.
func (ev *evaluator) hadByNone(n *Node, rounds []local) *Node {
	var missing *Node
	walk(n.Args[2], "", func(asked *Node, in string) {
		if in != "has" || !asked.Bound || missing != nil {
			return
		}
		for _, l := range rounds {
			if _, failed := ev.holding(l).value(asked); failed == nil {
				return
			}
		}
		missing = asked
	})
	return missing
}

// inRound says in which round of a sum something fails.
func inRound(failed *Error, n *Node, l local) *Error {
	if failed.kind != ownFault {
		return failed // the scope's message names the thing
	}
	return adding(failed, ", for %s = %s", n.Local, l.says())
}

// rounds are the locals that a sum goes through.
func (ev *evaluator) rounds(n *Node) ([]local, *Error) {
	over := n.Args[0]
	var list []local
	if over.Kind == Group {
		answer, known := ev.lists[over.Text]
		if !known {
			answer.members, answer.err = ev.scope.Members(over.Text)
			put(&ev.lists, over.Text, answer)
		}
		if answer.err != nil {
			return nil, fault(over, answer.err.Error(), answer.err)
		}
		for i := range answer.members {
			list = append(list, local{name: n.Local, member: &answer.members[i], group: over.Text})
		}
		return list, nil
	}
	for _, item := range over.Args {
		l, failed := ev.item(item)
		if failed != nil {
			return nil, failed
		}
		l.name = n.Local
		list = append(list, l)
	}
	return list, nil
}

// item is one of a list written out: a name, which may stand for a thing, or a
// value.
func (ev *evaluator) item(n *Node) (local, *Error) {
	if n.Kind == Name && !n.Bound {
		return local{alias: n.Text}, nil
	}
	if n.Kind == Name && !strings.Contains(n.Text, ".") {
		if l, found := ev.held(n.Text); found {
			return l, nil
		}
	}
	v, failed := ev.value(n)
	return local{value: v}, failed
}
