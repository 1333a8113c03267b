// Every page of the demo that a picture is taken of and that axe-core looks at.
export const pages = [
  { name: "quick", path: "/" },
  { name: "pieces", path: "/pieces" },
  { name: "new-piece", path: "/pieces/new" },
  { name: "piece", path: "/pieces/hall-bench" },
  { name: "week", path: "/week" },
  { name: "bench", path: "/bench" },
  { name: "shelf", path: "/shelf" },
  { name: "colour", path: "/colour" },
  { name: "money", path: "/money" },
  { name: "shop", path: "/shop" },
];
