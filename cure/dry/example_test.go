package dry_test

import (
	"fmt"
	"time"

	"salthand/cure"
	"salthand/cure/dry"
)

const day = 24 * time.Hour

// One gram on the middle weighing moves the finish by days.
func ExampleFit() {
	for _, middle := range []cure.Gram{901, 900, 899} {
		c, err := dry.Fit(dry.Series{{0, 1000}, {7 * day, middle}, {14 * day, 830}})
		if err != nil {
			fmt.Println(err)
			return
		}
		limit, _ := c.Limit()
		fmt.Printf("limit %.0f g, 700 g on day %.0f, 650 g never: %v\n", limit, c.Reach(700).After.Hours()/24, c.Reach(650).Never)
	}
	// Output:
	// limit 650 g, 700 g on day 41, 650 g never: false
	// limit 667 g, 700 g on day 45, 650 g never: true
	// limit 681 g, 700 g on day 52, 650 g never: true
}
