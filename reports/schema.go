package reports

import "pinfold/units"

// Schema names the version of result.json.
const Schema = "pinfold/result/1"

// The JSON of a result: lengths in ticks, areas in square ticks, money in the
// smallest coin, x across the bolt and y along the selvage.
type (
	fabricJSON struct {
		Fabric   string       `json:"fabric"`
		Kerf     units.Length `json:"kerf"`
		Status   string       `json:"status"`
		Price    *priceJSON   `json:"price"`
		Area     areaJSON     `json:"area"`
		ProvedBy *string      `json:"proved_by"`
		Scraps   *scrapsJSON  `json:"scraps,omitempty"`
		Passes   int          `json:"passes"`
		Pieces   []pieceJSON  `json:"pieces"`
	}
	// priceJSON and areaJSON carry no bound when pieces are missing: a bound
	// speaks of plans that cut every piece.
	priceJSON struct {
		Value int64  `json:"value"`
		Bound *int64 `json:"bound"`
	}
	areaJSON struct {
		Used   units.Area  `json:"used"`
		Bought units.Area  `json:"bought"`
		Bound  *units.Area `json:"bound"`
	}
	pieceJSON struct {
		ID      string       `json:"id"`
		W       units.Length `json:"w"`
		H       units.Length `json:"h"`
		Demand  int          `json:"demand"`
		Turn    bool         `json:"turn"`
		Missing int          `json:"missing"`
	}
	sheetJSON struct {
		ID         string            `json:"id"`
		Stock      stockJSON         `json:"stock"`
		Cost       *int64            `json:"cost"` // null when the fabric is not priced
		Width      units.Length      `json:"width"`
		Height     units.Length      `json:"height"`
		Copies     int               `json:"copies"`
		Raw        [2]units.Length   `json:"raw"`
		Squared    [4]units.Length   `json:"squared"`
		Bad        [][4]units.Length `json:"bad"`
		Placements []placementJSON   `json:"placements"`
		Offcuts    []offcutJSON      `json:"offcuts"`
		Cuts       *nodeJSON         `json:"cuts"`
	}
	stockJSON struct {
		Kind   string       `json:"kind"`
		ID     string       `json:"id"`
		Cut    string       `json:"cut,omitempty"`    // the offer's name
		Length units.Length `json:"length,omitempty"` // bought off the bolt
	}
	placementJSON struct {
		Piece  string       `json:"piece"`
		X      units.Length `json:"x"`
		Y      units.Length `json:"y"`
		W      units.Length `json:"w"`
		H      units.Length `json:"h"`
		Turned bool         `json:"turned"`
	}
	offcutJSON struct {
		X units.Length `json:"x"`
		Y units.Length `json:"y"`
		W units.Length `json:"w"`
		H units.Length `json:"h"`
	}
	nodeJSON struct {
		Axis   string         `json:"axis,omitempty"`
		At     []units.Length `json:"at,omitempty"`
		Parts  []*nodeJSON    `json:"parts,omitempty"`
		Piece  *string        `json:"piece,omitempty"`
		Turned *bool          `json:"turned,omitempty"`
		Offcut bool           `json:"offcut,omitempty"`
		Waste  bool           `json:"waste,omitempty"`
	}
	purchaseJSON struct {
		Fabric string       `json:"fabric"`
		Kind   string       `json:"kind"`
		Cut    string       `json:"cut"`
		Count  int          `json:"count,omitempty"`
		Length units.Length `json:"length,omitempty"`
		Price  *int64       `json:"price"`
		Text   string       `json:"text"`
		Bolt   string       `json:"bolt,omitempty"` // which of several, in words
	}
	// splitJSON divides what a list of fabrics may fill: pieces of a round or the
	// band, or, where piece is missing, whole ornaments.
	splitJSON struct {
		Order    int              `json:"order"` // of the plan's list, from 0
		Ornament string           `json:"ornament"`
		Count    int              `json:"count"`
		Role     string           `json:"role"`
		Piece    string           `json:"piece,omitempty"`
		Shares   []splitShareJSON `json:"shares"`
	}
	splitShareJSON struct {
		Fabric string `json:"fabric"`
		Count  int    `json:"count"`
	}
	supplyJSON struct {
		Name   string       `json:"name"`
		Count  int          `json:"count,omitempty"`
		Length units.Length `json:"length,omitempty"`
	}
)
