//! Size, form and uncertainty from gauge readings, and the verdict against a limit.
