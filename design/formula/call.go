package formula

import (
	"errors"
	"fmt"
	"slices"

	"plansheaf/design/quantity"
)

// call works out a function: of the language, of the calculation, of the scope.
func (ev *evaluator) call(n *Node) (Result, *Error) {
	if isBuiltin(n.Text) {
		return ev.builtin(n)
	}
	if function := ev.scope.Function(n.Text); function != nil {
		return ev.apply(n, function)
	}
	v, failed := ev.scopeCall(n)
	return Result{Value: v}, failed
}

// apply works out a function written as a formula.
func (ev *evaluator) apply(n *Node, f *Function) (Result, *Error) {
	inner, failed := ev.enter(n, f)
	if failed != nil {
		return Result{}, failed
	}
	result, failed := inner.eval(f.Is.root)
	if failed != nil {
		return Result{}, ev.insideOf(n, f, failed)
	}
	return result, nil
}

// enter is the evaluator within a function, whose parameters are locals that hold
// the arguments, or stand for the things named.
func (ev *evaluator) enter(n *Node, f *Function) (*evaluator, *Error) {
	if from := slices.Index(ev.inside, f.Name); from >= 0 {
		err := &CycleError{Path: append(slices.Clone(ev.inside[from:]), f.Name), Calls: true}
		return nil, fault(ev.nameOf(n), err.Error(), err)
	}
	if len(ev.inside) >= maxCalled {
		return nil, ev.fail(n, nil, "more than %d functions call each other", maxCalled)
	}
	if len(n.Args) != len(f.Parameters) {
		failed := ev.fail(n, nil, "%s takes %s, not %d", f.Name, arity{least: len(f.Parameters), most: len(f.Parameters)}.want(), len(n.Args))
		failed.Remedy = "write " + f.Head()
		return nil, failed
	}
	var locals *local
	for i, argument := range n.Args {
		l, failed := ev.argument(argument, f.things[i])
		if failed != nil {
			return nil, failed
		}
		l.name, l.outer = f.Parameters[i], locals
		locals = &l
	}
	inner := *ev
	inner.expr, inner.locals, inner.trail = f.Is, locals, ev.follow(n, 0)
	inner.inside = append(slices.Clone(ev.inside), f.Name)
	return &inner, nil
}

// argument is what a parameter stands for: a value; or, for a name that has none, the
// thing, in case that the function, or one that it calls, reaches into it.
func (ev *evaluator) argument(n *Node, thing bool) (local, *Error) {
	if n.Kind != Name {
		v, failed := ev.value(n)
		return local{value: v}, failed
	}
	if thing {
		return ev.item(n)
	}
	v, failed := ev.value(n)
	if failed == nil {
		return local{value: v}, nil
	}
	l, none := ev.item(n)
	if none != nil {
		return local{}, failed
	}
	failed.frame = len(ev.inside) + 1
	l.fault = failed
	return l, nil
}

// insideOf marks the call for what fails within a function, and shows the
// definition; of functions within functions it shows the innermost.
func (ev *evaluator) insideOf(n *Node, f *Function, failed *Error) *Error {
	if failed.frame > 0 && failed.frame <= len(ev.inside)+1 {
		return failed // an argument's own fault is marked where it lies
	}
	located := *failed
	located.Offset, located.Length = n.Offset, n.Length
	if !failed.shown {
		located.Message += ", in " + shorten([]rune(f.String()))
		located.shown = true
	}
	return &located
}

// nameOf is a call's name as a node, to mark.
func (ev *evaluator) nameOf(n *Node) *Node {
	name := *n
	name.Length = n.NameLength
	return &name
}

// scopeCall asks the scope. Arguments are worked out when the scope wants them,
// and once only, lest nested calls multiply the work.
func (ev *evaluator) scopeCall(n *Node) (quantity.Value, *Error) {
	args := make([]Arg, len(n.Args))
	faults := make([]*Error, len(n.Args))
	for i, argument := range n.Args {
		var done bool
		var v quantity.Value
		args[i] = Arg{Offset: argument.Offset, Length: argument.Length, value: func() (quantity.Value, *Error) {
			if !done {
				v, faults[i] = ev.value(argument)
				done = true
			}
			return v, faults[i]
		}}
		if argument.Kind == Name {
			args[i].Name = argument.Text
		}
	}
	v, err := ev.scope.Call(n.Text, args)
	if err != nil {
		var inner *Error
		if errors.As(err, &inner) && slices.Contains(faults, inner) {
			return quantity.Value{}, inner // an argument's own fault is marked where it lies
		}
		return quantity.Value{}, ev.unanswered(n, err)
	}
	if !v.Finite() {
		return quantity.Value{}, fault(n, fmt.Sprintf("%s is no finite number", ev.expr.text(n)), nil)
	}
	if ev.watch == nil && v.HasSpread() && ev.moved.node == n {
		return ev.shift(v.Nominal(), v), nil
	}
	return ev.take(leaf{node: n}, ev.expr.text(n), v), nil
}

// unanswered is the error of a call that the scope refuses.
func (ev *evaluator) unanswered(n *Node, err error) *Error {
	if errors.Is(err, quantity.ErrUndefined) {
		return ev.refuse(n, err, err.Error(), n.Args...)
	}
	failed := fault(ev.nameOf(n), err.Error(), err)
	var unknown *UnknownNameError
	if near := nearestFunction(n.Text); near != "" && failed.Remedy == "" && errors.As(err, &unknown) {
		failed.Remedy = fmt.Sprintf("is %q meant?", near)
	}
	return failed
}
