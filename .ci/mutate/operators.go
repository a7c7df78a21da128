package main

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"slices"
	"strconv"
	"strings"
)

// operators and what they become. An order moves only its boundary: whoever
// notices that notices it turned round.
var operators = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.AND: token.OR, token.OR: token.AND, token.AND_NOT: token.AND, token.XOR: token.OR,
	token.SHL: token.SHR, token.SHR: token.SHL,
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
}

// neighbours are named codes, each with one that could be mistaken for it.
var neighbours = map[string]string{
	"USB2": "USB32Gen1", "USB32Gen1": "USB32Gen2", "USB32Gen2": "USB32Gen1", "USB4Gen3": "USB4Gen4", "USB4Gen4": "USB4Gen3",
	"PassiveType": "ActiveType", "ActiveType": "PassiveType", "VPDType": "NotACable", "NotACable": "VPDType",
	"EndTypeA": "EndTypeB", "EndTypeB": "EndTypeA", "EndTypeC": "EndCaptive", "EndCaptive": "EndTypeC",
	"OneEndActive": "BothEndsActive", "BothEndsActive": "OneEndActive", "VCONNRequired": "VCONNNotRequired",
	"ActiveFormV12": "ActiveFormCurrent", "ActiveFormCurrent": "ActiveFormV12", "ActiveFormEarly": "ActiveFormV12",
	"Revision1": "Revision3", "Revision2": "Revision3", "Revision3": "Revision2",
	"PlugNear": "PlugFar", "PlugFar": "PlugNear", "PlugPartner": "PlugNear",
	"SVIDThunderbolt": "SVIDDisplayPort", "SVIDDisplayPort": "SVIDThunderbolt", "SVIDPowerDelivery": "SVIDDisplayPort",
	"DiscoverIdentity": "DiscoverSVIDs", "DiscoverSVIDs": "DiscoverModes", "DiscoverModes": "DiscoverSVIDs", "ACK": "NAK",
	"Defined": "Reserved", "Reserved": "Defined", "Deprecated": "Reserved",
	"Within": "Over", "Over": "Within", "Undecided": "Within", "VBUS": "Ground", "Ground": "VBUS", "Loop": "Ground",
	"GuardBand": "SimpleAcceptance", "SimpleAcceptance": "GuardBand",
	"Tier60": "Tier100", "Tier100": "Tier240", "Tier240": "Tier100", "TierLegacy": "Tier60",
	"MarkerAbsent": "MarkerSilent", "MarkerSilent": "MarkerAbsent", "MarkerEvasive": "MarkerAnswered", "MarkerAnswered": "MarkerEvasive",
	"Contradiction": "Breach", "Breach": "Doubt", "Doubt": "Remark", "Remark": "Doubt",
}

// otherProperty is a question that a rule on the one named does not ask.
func otherProperty(name string) string {
	if name == "Power" {
		return "Current"
	}
	return "Power"
}

// visit notes the mutants of a node, and tells whether to look inside it.
func (f *finder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec:
		return false
	case *ast.ValueSpec:
		if t, ok := n.Type.(*ast.Ident); ok && t.Name == "span" {
			f.span(n)
			return false
		}
	case *ast.GenDecl:
		f.swapConstants(n)
	case *ast.BasicLit:
		f.number(n)
	case *ast.BinaryExpr:
		f.binary(n)
	case *ast.UnaryExpr:
		if n.Op == token.NOT {
			f.replace(n, "("+f.textOf(n.X)+")")
		}
	case *ast.IfStmt:
		f.negate(n.Cond)
	case *ast.SwitchStmt:
		if n.Tag == nil {
			for _, s := range n.Body.List {
				for _, e := range s.(*ast.CaseClause).List {
					f.negate(e)
				}
			}
		}
	case *ast.CallExpr:
		return f.call(n)
	case *ast.CompositeLit:
		f.composite(n)
	case *ast.KeyValueExpr:
		f.ruleField(n)
	case *ast.Ident:
		f.ident(n)
	case *ast.ArrayType:
		return false // its length
	case *ast.ReturnStmt:
		return !f.nothingKnown(n)
	}
	return true
}

// nothingKnown tells a return of false or of an error behind other results, which
// then nobody is to use.
func (f *finder) nothingKnown(n *ast.ReturnStmt) bool {
	if len(n.Results) < 2 {
		return false
	}
	last := n.Results[len(n.Results)-1]
	if f.textOf(last) == "false" {
		f.ident(last.(*ast.Ident))
		return true
	}
	t := f.info.Types[last].Type
	return t != nil && types.Implements(t, errorType) && f.textOf(last) != "nil"
}

var errorType = types.Universe.Lookup("error").Type().Underlying().(*types.Interface)

// span moves each end of a run of bits by one place.
func (f *finder) span(n *ast.ValueSpec) {
	for i, v := range n.Values {
		sum, _ := v.(*ast.BinaryExpr) // high<<8 + low
		if sum == nil {
			continue
		}
		shift, _ := sum.X.(*ast.BinaryExpr)
		if shift == nil {
			continue
		}
		high, _ := strconv.Atoi(f.textOf(shift.X))
		low, _ := strconv.Atoi(f.textOf(sum.Y))
		for _, to := range [][2]int{{high + 1, low}, {high - 1, low}, {high, low + 1}, {high, low - 1}} {
			if to[0] > f.top || to[1] < 0 || to[0] < to[1] {
				continue
			}
			is := strconv.Itoa(to[0]) + "<<8 + " + strconv.Itoa(to[1])
			f.add(v, is, n.Names[i].Name+" "+f.textOf(v), is)
		}
	}
}

// swapConstants exchanges the numbers of neighbours in a list of typed codes.
func (f *finder) swapConstants(n *ast.GenDecl) {
	if n.Tok != token.CONST {
		return
	}
	for i := 1; i < len(n.Specs); i++ {
		one, other := n.Specs[i-1].(*ast.ValueSpec), n.Specs[i].(*ast.ValueSpec)
		if one.Type == nil || other.Type == nil || f.textOf(one.Type) != f.textOf(other.Type) || f.textOf(one.Type) == "span" ||
			len(one.Values) != 1 || len(other.Values) != 1 {
			continue
		}
		f.swap(n, one.Names[0], one.Values[0], other.Values[0])
	}
}

// swap exchanges two expressions within a node.
func (f *finder) swap(within, at ast.Node, a, b ast.Expr) {
	was, is := f.textOf(a), f.textOf(b)
	if was == is {
		return
	}
	base, text := f.offset(within.Pos()), f.textOf(within)
	f.add(within, text[:f.offset(a.Pos())-base]+is+text[f.offset(a.End())-base:f.offset(b.Pos())-base]+was+text[f.offset(b.End())-base:],
		f.textOf(at)+" "+was, "exchanged with "+is)
	f.out[len(f.out)-1].line = f.fset.Position(at.Pos()).Line
}

// silentCalls take arguments that are a matter of form, of memory or of sign, or, in
// the case of Or, numbers that stand for a value that is absent.
var silentCalls = map[string]bool{
	"make": true, "Grow": true, "Format": true, "FormatUncertain": true, "Sprintf": true, "Errorf": true, "FormatInt": true, "FormatUint": true,
	"FormatFloat": true, "ParseInt": true, "ParseUint": true, "Place": true, "Inf": true, "IsInf": true, "Or": true,
}

func (f *finder) call(n *ast.CallExpr) bool {
	name := ""
	switch fun := n.Fun.(type) {
	case *ast.Ident:
		name = fun.Name
	case *ast.SelectorExpr:
		name = fun.Sel.Name
	}
	if name == "foundIf" && len(n.Args) > 0 {
		f.negate(n.Args[0])
	}
	return !silentCalls[name] || name == "Or"
}

// number makes a literal larger and smaller by one in its last place; of a mask
// or a code it flips the highest and the lowest bit.
func (f *finder) number(n *ast.BasicLit) {
	if n.Kind != token.INT && n.Kind != token.FLOAT {
		return
	}
	var around ast.Node = n
	switch up := f.parent(1).(type) {
	case *ast.IndexExpr:
		if up.Index == n {
			return // text and words by place: a wrong one is out of range or seen
		}
	case *ast.SliceExpr:
		return
	case *ast.KeyValueExpr:
		if up.Key == n {
			return // exchanged with its neighbour instead
		}
		around = up
	case *ast.CallExpr:
		if strings.HasSuffix(f.textOf(up.Fun), "Or") {
			return
		}
		around = up
	case *ast.BinaryExpr:
		if f.textOf(up.X) == "iota" {
			return // numbers by which nothing outside knows it
		}
		around = up
	case *ast.ReturnStmt, *ast.CompositeLit, *ast.ValueSpec:
		around = up
	}
	if len(f.textOf(around)) > 60 {
		around = n
	}
	for _, is := range otherNumbers(n) {
		f.replaceIn(around, n, is)
	}
}

func otherNumbers(n *ast.BasicLit) []string {
	if strings.HasPrefix(n.Value, "0x") || strings.HasPrefix(n.Value, "0b") {
		v, err := strconv.ParseUint(n.Value, 0, 64)
		if err != nil {
			return nil
		}
		base := map[byte]int{'x': 16, 'b': 2}[n.Value[1]]
		out := []string{n.Value[:2] + strconv.FormatUint(v^1, base)}
		high := uint64(1)
		for high<<1 <= v && high<<1 != 0 {
			high <<= 1
		}
		if high != 1 {
			out = append(out, n.Value[:2]+strconv.FormatUint(v^high, base))
		}
		return out
	}
	digits, exponent := n.Value, ""
	if i := strings.IndexAny(digits, "eE"); i >= 0 {
		digits, exponent = digits[:i], digits[i:]
	}
	whole, fraction, point := strings.Cut(digits, ".")
	v, err := strconv.ParseInt(whole+fraction, 10, 64)
	if err != nil {
		return nil
	}
	var out []string
	for _, w := range []int64{v + 1, v - 1} {
		if w < 0 {
			continue
		}
		s := strconv.FormatInt(w, 10)
		if point {
			for len(s) <= len(fraction) {
				s = "0" + s
			}
			s = s[:len(s)-len(fraction)] + "." + s[len(s)-len(fraction):]
		}
		out = append(out, s+exponent)
	}
	return out
}

func (f *finder) binary(n *ast.BinaryExpr) {
	t := f.info.Types[n.X].Type
	arithmetic := n.Op == token.ADD || n.Op == token.SUB || n.Op == token.MUL || n.Op == token.QUO
	if b, ok := t.Underlying().(*types.Basic); arithmetic && (!ok || b.Info()&types.IsNumeric == 0) {
		return
	}
	if n.Op == token.LAND || n.Op == token.LOR {
		f.negate(n.X)
		f.negate(n.Y)
	}
	if n.Op == token.SHL && f.textOf(n.Y) == "0" {
		return // nothing is moved either way
	}
	if op, ok := operators[n.Op]; ok {
		x, y := f.textOf(n.X), f.textOf(n.Y)
		f.add(n, "(("+x+") "+op.String()+" ("+y+"))", f.textOf(n), x+" "+op.String()+" "+y)
	}
}

// negate turns a condition round that is no comparison, no "and" and no "or":
// those have mutants of their own.
func (f *finder) negate(e ast.Expr) {
	switch e := e.(type) {
	case *ast.Ident, *ast.CallExpr, *ast.SelectorExpr, *ast.IndexExpr:
		f.replace(e, "!"+f.textOf(e))
	}
}

// ident flips truth values and takes the neighbour of a named code.
func (f *finder) ident(n *ast.Ident) {
	var whole ast.Expr = n
	up := f.parent(1)
	if s, ok := up.(*ast.SelectorExpr); ok {
		if s.X == n {
			return
		}
		whole, up = s, f.parent(2)
	}
	obj := f.info.Uses[n]
	if obj == nil {
		return // a declaration
	}
	kv, keyed := up.(*ast.KeyValueExpr)
	if keyed && kv.Key == whole {
		return
	}
	is := neighbours[n.Name]
	switch c, ok := obj.(*types.Const); {
	case ok && obj.Pkg() == nil && c.Val().Kind() == constant.Bool:
		is = map[string]string{"true": "false", "false": "true"}[n.Name]
	case obj.Pkg() == nil || obj.Parent() != obj.Pkg().Scope():
		return // a field, a method or something local that happens to be called so
	}
	if is == "" {
		return
	}
	var around ast.Node = whole
	switch up := up.(type) {
	case *ast.BinaryExpr, *ast.CallExpr, *ast.ReturnStmt, *ast.KeyValueExpr, *ast.CompositeLit:
		if len(f.textOf(up)) <= 60 {
			around = up
		}
	}
	text := f.textOf(whole)
	f.replaceIn(around, whole, text[:len(text)-len(n.Name)]+is)
}

// composite exchanges neighbours of a table, and drops what a rule lists.
func (f *finder) composite(n *ast.CompositeLit) {
	t := f.info.Types[n].Type
	if t == nil {
		return
	}
	switch t := t.Underlying().(type) {
	case *types.Slice:
		elem := t.Elem().String()
		if i := strings.LastIndex(elem, "."); slices.Contains([]string{"Evidence", "Witness"}, elem[i+1:]) || f.inField("Under") {
			f.drop(n)
		}
	case *types.Array, *types.Map:
		f.swapElements(n)
	}
}

func (f *finder) inField(name string) bool {
	kv, ok := f.parent(1).(*ast.KeyValueExpr)
	return ok && f.textOf(kv.Key) == name
}

func (f *finder) swapElements(n *ast.CompositeLit) {
	whole := n // the nearest literal that is an expression by itself
	for up := 1; whole.Type == nil && up <= len(f.stack); up++ {
		if lit, ok := f.parent(up).(*ast.CompositeLit); ok {
			whole = lit
		}
	}
	for i := 1; i < len(n.Elts); i++ {
		a, ok := n.Elts[i-1].(*ast.KeyValueExpr)
		b, too := n.Elts[i].(*ast.KeyValueExpr)
		switch {
		case ok && too:
			f.swap(whole, a.Key, a.Value, b.Value)
		case !ok && !too && isNumber(n.Elts[i-1]) && isNumber(n.Elts[i]):
			f.swap(whole, n.Elts[i-1], n.Elts[i-1], n.Elts[i])
		}
	}
}

func isNumber(e ast.Expr) bool {
	b, ok := e.(*ast.BasicLit)
	return ok && b.Kind != token.STRING
}

// drop leaves out each element of a list in turn.
func (f *finder) drop(n *ast.CompositeLit) {
	for i, e := range n.Elts {
		to := n.Rbrace
		if i+1 < len(n.Elts) {
			to = n.Elts[i+1].Pos()
		}
		base, text := f.offset(n.Pos()), f.textOf(n)
		f.add(n, text[:f.offset(e.Pos())-base]+text[f.offset(to)-base:], f.textOf(e)+" of "+text, "nothing")
	}
}

// ruleField changes what a rule states in one word.
func (f *finder) ruleField(n *ast.KeyValueExpr) {
	key, ok := n.Key.(*ast.Ident)
	if !ok {
		return
	}
	switch lit, ok := f.parent(1).(*ast.CompositeLit); {
	case !ok || f.info.Types[lit].Type == nil || !strings.HasSuffix(f.info.Types[lit].Type.String(), ".Rule"):
		return
	}
	switch key.Name {
	case "Property":
		f.replaceIn(n, n.Value, otherProperty(f.textOf(n.Value)))
	case "Window":
		f.replaceIn(n, n.Value, "Window{}")
	case "Silent":
		f.replaceIn(n, n.Value, "nil")
	case "Under":
		if _, ok := n.Value.(*ast.CompositeLit); !ok {
			f.replaceIn(n, n.Value, "nil")
		}
	}
}
