package main

// excused are mutants that change nothing anybody can see, each with the reason.
// A mutant's name is file: declaration: what was → what is, and #n where a
// declaration has several of the same.
var excused = map[string]string{}
