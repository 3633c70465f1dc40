package data

import (
	"fmt"

	"plansheaf/design/bill"
	"plansheaf/design/check"
	"plansheaf/design/plan"
)

type purchaseFile struct {
	ID       string  `json:"id" about:"name in the plan"`
	As       string  `json:"as,omitempty" about:"the part that is bought in its place"`
	Supplier string  `json:"supplier,omitempty" about:"name in the plan"`
	Code     string  `json:"code,omitempty" about:"the supplier's order code"`
	Need     int     `json:"need" about:"pieces"`
	Spare    int     `json:"spare" about:"pieces beyond need"`
	Pack     int     `json:"pack" about:"pieces in a pack"`
	Packs    int     `json:"packs" about:"to buy"`
	Left     int     `json:"left" about:"pieces left over"`
	Size     string  `json:"size,omitempty" about:"of stock, as sold, or the lengths that it is cut to"`
	ToLength bool    `json:"to_length,omitempty" about:"bought cut to length"`
	Each     float64 `json:"each" about:"price of a pack where so many are bought"`
	Price    float64 `json:"price" about:"of all packs, rounded to hundredths, half up"`
	Priced   bool    `json:"priced" about:"whether a price is known"`
	Checked  string  `json:"checked,omitempty" about:"the day on which the price was looked up"`
}

// An orderFile is what one supplier gets; goods, fill and shipping add up to its
// total.
type orderFile struct {
	Supplier string  `json:"supplier,omitempty" about:"name in the plan; absent: any dealer"`
	Goods    float64 `json:"goods" about:"its purchases that have a price"`
	Fill     float64 `json:"fill" about:"whatever else, up to the least order or to free shipping"`
	Shipping float64 `json:"shipping" about:"of the order"`
	Total    float64 `json:"total" about:"of the order"`
	Least    float64 `json:"least_order,omitempty" about:"no order is worth less"`
	FreeFrom float64 `json:"free_from,omitempty" about:"an order worth this ships free"`
}

func purchaseOf(b bill.Purchase) purchaseFile {
	return purchaseFile{
		ID: b.ID, As: b.As, Supplier: supplierID(b.Supplier), Code: b.Code, Need: b.Need, Spare: b.Spare, Pack: b.Pack, Packs: b.Packs, Left: b.Left,
		Size: b.Size, ToLength: b.ToLength, Each: b.Each.Amount(), Price: b.Price.Amount(), Priced: b.Priced, Checked: b.Checked,
	}
}

func orderOf(o bill.Order) orderFile {
	return orderFile{
		Supplier: supplierID(o.Supplier), Goods: o.Goods.Amount(), Fill: o.Fill.Amount(), Shipping: o.Shipping.Amount(),
		Total: o.Total().Amount(), Least: o.Least.Amount(), FreeFrom: o.FreeFrom.Amount(),
	}
}

func supplierID(s *plan.Supplier) string {
	if s == nil {
		return ""
	}
	return s.ID.Text
}

// ShoppingCSV is the shopping list of one situation: a row for each purchase, and one
// for what each order takes beside them. Prices of what has none are empty.
func ShoppingCSV(s *check.Situation, currency string) []byte {
	rows := [][]string{{"item", "title", "supplier", "code", "needed", "spare", "pack", "packs", "size", "left over", "each " + currency, "price " + currency, "price of", "instead of"}}
	for _, p := range s.Bill.Purchases {
		each, price, item, instead := "", "", p.ID, ""
		if p.Priced {
			each, price = amount(p.Each), amount(p.Price)
		}
		if p.As != "" {
			item, instead = p.As, p.ID
		}
		size := p.Size
		if p.ToLength {
			size = "cut to length: " + size
		}
		rows = append(rows, []string{
			item, p.Title, supplierTitle(p.Supplier), p.Code, fmt.Sprint(p.Need), fmt.Sprint(p.Spare), fmt.Sprint(p.Pack), fmt.Sprint(p.Packs), size,
			fmt.Sprint(p.Left), each, price, p.Checked, instead,
		})
	}
	for _, o := range s.Bill.Orders {
		for _, extra := range []struct {
			title string
			price bill.Money
		}{{"whatever else, to fill the order up", o.Fill}, {"shipping", o.Shipping}} {
			if extra.price > 0 {
				row := make([]string, len(rows[0]))
				row[1], row[2], row[11] = extra.title, supplierTitle(o.Supplier), amount(extra.price)
				rows = append(rows, row)
			}
		}
	}
	return table(rows)
}

// amount is money with two decimals, and those beyond where a unit price has them.
func amount(m bill.Money) string {
	if m == m.Rounded() {
		return fmt.Sprintf("%.2f", m.Amount())
	}
	return fmt.Sprintf("%.4f", m.Amount())
}

func supplierTitle(s *plan.Supplier) string {
	if s == nil {
		return ""
	}
	return s.Title.Value
}
