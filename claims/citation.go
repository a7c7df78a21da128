package claims

import "example.com/gainsay/claims/internal/source"

// Citation names the published place a rule rests on: document, revision and clause, how
// strongly it speaks, and how it is known to the writer of the rule.
type Citation = source.Citation

// Force is how strongly a source speaks. The deciding source of a rule, its first, decides
// which kinds of finding the rule may have: [Force] values from Informative down, but for
// laws of nature and our own reasoning, never give more than a doubt or a remark.
type Force = source.Force

// The forces, the strongest first.
const (
	Shall       = source.Shall       // a requirement of the document
	Should      = source.Should      // a recommendation of the document
	Informative = source.Informative // the document informs, it does not require
	Nature      = source.Nature      // a law of nature, with its constants published
	Own         = source.Own         // own reasoning from sourced facts
	Practice    = source.Practice    // common practice of the trade, without a source
)

// How is how a source is known.
type How = source.How

// The ways, the closest first.
const (
	Read      = source.Read      // the clause was read in the document itself
	Relayed   = source.Relayed   // the clause was read in a published relay that names it
	Memory    = source.Memory    // from memory; no text was at hand
	Reasoned  = source.Reasoned  // worked out from sourced facts
	Unsourced = source.Unsourced // common practice; nobody published it
)
