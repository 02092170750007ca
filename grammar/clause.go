package grammar

import (
	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// clause is what stands between two separators: one thing or several, told apart without
// commas where that is clear. The grammar is flat: nothing in it contains itself, and every
// alternative takes at least one token.
type clause struct {
	Items []*item `parser:"@@ ((?! EOF) @@)*"`
}

// item is one thing that a dose phrase says; one of its fields is set.
type item struct {
	Pos    lexer.Position
	Cut    string  `parser:"  @Cut"`
	Method string  `parser:"| @Method"`
	Amount *amount `parser:"| @@"`
	Led    *led    `parser:"| @@"`
	Pump   *pump   `parser:"| @@"`
	Share  *share  `parser:"| @@"`
	Agent  *agent  `parser:"| @@"`
	Flag   string  `parser:"| @Flag"`
	Jar    string  `parser:"| Jar @Name"`
	Vague  string  `parser:"| @(Vague | Ion)"` // "pink salt", "saltpetre", a misspelt salt
	Spoon  string  `parser:"| @Spoon"`
	Count  *count  `parser:"| @@"`
	Each   string  `parser:"| @Each"`
	Recipe string  `parser:"| @Recipe"`
	// Only where a phrase asks for figures, see asked:
	Product string `parser:"| @Product"`
	Mark    *mark  `parser:"| @@"`
}

// amount is a number, its unit and what it is of: "3.2 kg", "3 x 1.4 kg", "3 lb 5 oz",
// "2.1 kg + 3.3 kg", "4 cm + 6 cm thick", "30 x 20 x 12 cm", "80 g salt", "2.5% salt on top", "120 ppm", "0.25% no 1 6.25%", "4 l water".
type amount struct {
	Number  string  `parser:"@Number"`
	Each    string  `parser:"(Times @Number"`      // then Number is the count
	Third   string  `parser:" (Times @Number)?)?"` // "30 x 20 x 12 cm"
	Mass    string  `parser:"( @Mass"`
	Small   string  `parser:"  (@Number"`
	Ounces  string  `parser:"   @Mass)?"`
	More    []part  `parser:"  (Plus @@)*"`
	Over    *over   `parser:"  @@?"`
	MassOf  string  `parser:"  ( ( @(Vague | Stuff | Ion | Water)"`
	Cure    *agent  `parser:"  | @@"`
	Jar     string  `parser:"    | Jar @Name )"`
	Under   *over   `parser:"    @@? )?"`
	Level   string  `parser:"| @(Percent | Level | PPM)"`
	Of      string  `parser:"  ( @(Vague | Stuff | Ion | Inject | Water)"`
	OnTop   bool    `parser:"    @OnTop?"`
	Agent   *agent  `parser:"  | @@ )?"`
	Span    string  `parser:"| @Span"`
	Volume  string  `parser:"| @Volume"`
	Liquid  string  `parser:"  @Water?"`
	Length  string  `parser:"| @Length"`
	Longer  []depth `parser:"  ((?= Plus Number Length) Plus @@)* Thick?"`
	Degree  string  `parser:"| @Degree"`
	Spoon   string  `parser:"| @Spoon"`
	SpoonOf string  `parser:"  ( @(Vague | Stuff | Ion | Water)"`
	Spooned *agent  `parser:"  | @@ )?"`
	Spoons  *over   `parser:"  @@?"`
	Salty   string  `parser:"| @Salty )"`
}

type part struct {
	Number string `parser:"@Number"`
	Each   string `parser:"(Times @Number)?"`
	Mass   string `parser:"@Mass"`
	Small  string `parser:"(@Number"`
	Ounces string `parser:" @Mass)?"`
}

// over is what an amount is for: "per 25 lb", "/gal", "/100".
type over struct {
	Per    string `parser:"@Per"`
	Number string `parser:"@Number?"`
	Mass   string `parser:"( @Mass"`
	Volume string `parser:"| @Volume )?"`
}

// count is a number of pieces: "3 pieces", "3 bellies".
type count struct {
	Number string `parser:"@Number (?= Cut | Piece)"`
	Piece  string `parser:"@Piece?"`
}

// depth is a thickness after another.
type depth struct {
	Number string `parser:"@Number"`
	Length string `parser:"@Length"`
}

// led is a word and the amount that it may lead: "brine 4 l", "cover 4 l", "in 4 l water",
// "at 3 c", "thick 4 cm". Where the amount does not belong to the word ("brine, 7 days"
// without the comma), the two stand alone.
type led struct {
	Word   string  `parser:"@(Brine | Cover | In | At | Thick | Water)"`
	Amount *amount `parser:"@@?"`
}

// share is a word and its level: "salt 2.5% on top", "erythorbate 500 ppm". With a curing
// salt behind the level ("salt 2.5% no 1") nobody knows which of the two it is of.
type share struct {
	Word   string `parser:"@(Stuff | Ion)"`
	Number string `parser:"(?! Number Percent (Agent | Vague)) @Number"`
	Level  string `parser:"@(Percent | Level | PPM)"`
	OnTop  bool   `parser:"@OnTop?"`
}

// mark is a word that says what its amount or its number is: "to 35%", "day 7", "ph 5.3",
// "from nitrite 99%".
type mark struct {
	Word   string  `parser:"@Mark"`
	Amount *amount `parser:"( @@"`
	Number string  `parser:"| @Number )?"`
}

// pump is "inject" or "pump 10%"; "inject 2.5% salt" says no pump.
type pump struct {
	Word   string `parser:"@Inject"`
	Number string `parser:"( (?! Number Percent (Agent | Vague | Stuff)) @Number"`
	Level  string `parser:"  @(Percent | Level | PPM) )?"`
}

// agent is a curing salt with its strength: "no 1", "no 1 6.25%", "no 2 6.25% + 4%",
// "no 2 6.25% nitrite 4% nitrate", or with its rate: "no 1 2.5 g/kg". "no 1 2.5% salt" says
// no strength.
type agent struct {
	Name     string `parser:"@Agent"`
	First    string `parser:"( (?! Number Percent (Agent | Vague | Stuff | Inject)) @Number Percent"`
	FirstOf  string `parser:"  @Ion?"`
	Second   string `parser:"  ( (?! Plus? Number Percent (Agent | Vague | Stuff | Inject)) Plus? @Number Percent"`
	SecondOf string `parser:"    @Ion? )? )?"`
	Rate     string `parser:"( (?! Number Level (Agent | Vague | Stuff | Ion | Inject | Water)) @Number"`
	Level    string `parser:"  @Level )?"`
}

// clauseParser reads one clause. Lookahead 2: a number, then its unit, decide.
var clauseParser = participle.MustBuild[clause](participle.Lexer(kinds{}), participle.UseLookahead(2))

// parseClause reads toks, which hold no separator. What was read stands in the clause; bad
// is the index of the first token that does not fit, or len(toks).
func parseClause(toks []token) (c *clause, bad int) {
	bad = len(toks)
	defer func() {
		if recover() != nil { // a fault in the grammar must cost one phrase, not the kitchen's bot
			c, bad = &clause{}, 0
		}
	}()
	lex, err := lexer.Upgrade(&replay{toks: toks, end: toks[len(toks)-1].end})
	if err != nil {
		return &clause{}, 0 // cannot happen: replay never fails
	}
	c, err = clauseParser.ParseFromLexer(lex)
	if c == nil {
		c = &clause{}
	}
	if err == nil {
		return c, bad
	}
	bad = 0
	if e, ok := err.(participle.Error); ok {
		for bad < len(toks)-1 && toks[bad].start < e.Position().Offset {
			bad++
		}
	}
	// An item that was begun and not ended is handed over too: drop it.
	for n := len(c.Items); n > 0 && (c.Items[n-1].Pos.Offset >= toks[bad].start || !c.Items[n-1].ended()); n-- {
		c.Items = c.Items[:n-1]
	}
	return c, bad
}

// ended reports whether an item says something.
func (it *item) ended() bool {
	switch {
	case it.Amount != nil:
		a := it.Amount
		return a.Mass+a.Level+a.Span+a.Volume+a.Length+a.Degree+a.Spoon+a.Salty != ""
	case it.Share != nil:
		return it.Share.Level != ""
	case it.Pump != nil:
		return it.Pump.Number == "" || it.Pump.Level != ""
	case it.Led != nil, it.Agent != nil, it.Mark != nil, it.Count != nil:
		return true
	}
	return it.Cut+it.Method+it.Flag+it.Jar+it.Vague+it.Spoon+it.Product+it.Each+it.Recipe != ""
}
