//! Chains of sizes: worst case, root-sum-square and Monte Carlo.
