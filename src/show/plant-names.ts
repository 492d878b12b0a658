/** Names for lamps, in the order in which they are given out. */
export const PLANT_NAMES: readonly string[] = `
  Fern Moss Reed Sedge Ivy Palm Lotus Vine Orchid Sundew Aloe Agave Bamboo Begonia Bracken Caladium
  Camellia Canna Clover Coleus Cycad Cypress Fig Foxglove Fuchsia Gardenia Ginger Heather Hibiscus Horsetail Hosta Hyacinth
  Jasmine Juniper Laurel Liana Magnolia Mallow Mangrove Maple Myrtle Nettle Oleander Oxalis Papyrus Peony Plantain Poppy
  Primrose Rush Sage Sorrel Spurge Tansy Thistle Thyme Tulip Violet Waterlily Willow Wisteria Yarrow Yew Yucca
`
  .trim()
  .split(/\s+/)
