package vdo

// How to add a layout:
//
//  1. Write the spans of its fields as constants, from bit 31 down, beside a new
//     type (or beside the type whose other form it is), with accessors that
//     read those constants.
//  2. Write the Layout variable with the same constants, every bit once,
//     reserved runs included, and its source.
//  3. Add it to the list below. The tests then check that its fields cover 32
//     bits once, that any word can be composed again from its listing, that
//     names are unique, and compare it with the kernel's macros where the kernel
//     has some (testdata/kernel/layouts.h). They fail until the layout stands in
//     their own tables too: bitTables, accessors, typed, testdata/meanings.golden.
//  4. If a reply can carry it, let Reply.Layout choose it.

var layouts = []*Layout{
	&vdmHeaderLayout, &unstructuredLayout,
	&idHeaderLayout, &idHeaderPD2Layout, &idHeaderPartnerLayout,
	&certStatLayout, &productLayout,
	&passivePD2Layout, &activePD2Layout,
	&passiveCableLayout,
	&activeEarlyLayout,
	&active1V12Layout, &active2V12Layout,
	&active1Layout, &active2Layout,
	&vpdLayout,
	&svidPairLayout, &thunderboltCableLayout, &displayPortCableLayout,
	&opaqueLayout,
}

// Layouts lists every layout, in the order of a reply.
func Layouts() []*Layout { return append([]*Layout(nil), layouts...) }

// LayoutNamed finds a layout by name, nil if there is none.
func LayoutNamed(name string) *Layout {
	for _, l := range layouts {
		if l.name == name {
			return l
		}
	}
	return nil
}
