// Every page of the demo that a picture is taken of and that axe-core looks at.
export const pages = [
  { name: "quick", path: "/" },
  { name: "pieces", path: "/pieces" },
  { name: "new-piece", path: "/pieces/new" },
  { name: "piece", path: "/pieces/hall-bench" },
  { name: "zone", path: "/pieces/hall-bench/zones/body" },
  { name: "spot-test", path: "/pieces/hall-bench/zones/lid/test?look=clear-film&alcohol=nothing" },
  { name: "measure", path: "/pieces/hall-bench/measure" },
  { name: "week", path: "/week" },
  { name: "bench", path: "/bench" },
  { name: "shelf", path: "/shelf" },
  { name: "colour", path: "/colour" },
  { name: "colour-match", path: "/colour/match" },
  { name: "colour-photograph", path: "/colour/photograph" },
  { name: "colour-together", path: "/colour/together?colour-pick=%234f6b52&part-pick=%23b08d57" },
  { name: "money", path: "/money" },
  { name: "shop", path: "/shop" },
];
