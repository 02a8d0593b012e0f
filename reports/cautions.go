package reports

// Caution is a short warning about the work itself.
type Caution struct {
	Topic, Text string
	// Cutting tells that it belongs where the cutting is described.
	Cutting bool
}

// cautions lists what to mind: knives, pins and glue belong to every plan of
// this trade.
func cautions() []Caution {
	return []Caution{
		{"Rotary cutter", "Close the guard after every cut. Stand, cut away from your body, and keep the holding hand flat on the ruler, fingers well back from its edge; a cut-proof glove or a ruler guard is better still.", true},
		{"Blades", "Change a blade that skips. Wrap old blades in tape or card before they go in the bin.", true},
		{"Pins", "Count pins out and in. Push them all the way into the ball; keep a dish or a magnet at hand for the rest.", false},
		{"Hot glue", "The nozzle and the glue burn. Use a stand, keep water near, and unplug the gun when you leave the table.", false},
		{"Children and pets", "Pins, small parts and foam do not belong in a mouth. A finished ball is an ornament, not a toy; young people cut only with an adult beside them.", true},
		{"For sale or gift", "Goods that are sold or given away in numbers may fall under product-safety and labelling rules; look up the local ones before you offer them.", false},
	}
}
