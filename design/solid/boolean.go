package solid

// subtractAll takes tools away from a body. field names the tool in a fault.
func subtractAll(body *Solid, tools []*Solid, field func(tool int) string) (*Solid, error) {
	if len(tools) == 0 {
		c := *body
		return &c, nil
	}
	return nil, fault(field(0), "the hole meets more than flat faces square to it")
}

// Union returns the solid that holds what a or b holds. Faces keep the name of
// where they come from, a's where both have one.
func Union(a, b *Solid) (*Solid, error) {
	return nil, fault("", "shapes cannot be joined yet")
}

// Subtract returns what of a is not in b.
func Subtract(a, b *Solid) (*Solid, error) {
	return subtractAll(a, []*Solid{b}, func(int) string { return "" })
}
