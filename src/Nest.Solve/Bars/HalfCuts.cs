namespace Nest.Solve.Bars;

/// <summary>Finds violated subset-row cuts on one to three items.</summary>
/// <remarks>
/// Problem: sets S of items with odd total demand and Σ_p ⌊½ Σ_{i∈S} a_ip⌋ x_p above ⌊½ Σ_S d_i⌋. Method: triples among items that share
/// a bar in the present solution, exact value from the active layouts. Guarantee: every row returned is valid for all whole plans
/// (its validity rests on the demand alone); finding all of them is not promised.
/// </remarks>
internal static class HalfCuts
{
    public static List<PoolRow> Find(BarModel model, PoolProgram program, int most, double least)
    {
        List<(int Pattern, double Level)> active = program.Active();
        var holders = new List<(int Active, int Count)>[model.Types];
        var meets = new HashSet<int>[model.Types];
        for (int i = 0; i < model.Types; i++)
        {
            holders[i] = [];
            meets[i] = [];
        }

        for (int a = 0; a < active.Count; a++)
        {
            BarPattern p = program.Pool[active[a].Pattern];
            for (int k = 0; k < p.Items.Length; k++)
            {
                holders[p.Items[k]].Add((a, p.Counts[k]));
                foreach (int j in p.Items)
                {
                    meets[p.Items[k]].Add(j);
                }
            }
        }

        var found = new List<(double Violation, int I, int J, int K)>();
        var load = new int[active.Count];
        var touched = new List<int>();
        for (int i = 0; i < model.Types; i++)
        {
            int[] near = [.. meets[i].Where(j => j > i).Order()];
            Try(i, -1, -1);
            foreach (int j in near)
            {
                Try(i, j, -1);
                foreach (int k in meets[j].Union(near).Where(k => k > j).Order())
                {
                    Try(i, j, k);
                }

                // The third may lie between i and j in number when it meets only j.
                foreach (int k in meets[j].Where(k => k > i && k < j && !meets[i].Contains(k)).Order())
                {
                    Try(i, k, j);
                }
            }
        }

        found.Sort((a, b) =>
        {
            int c = b.Violation.CompareTo(a.Violation);
            return c != 0 ? c : (a.I, a.J, a.K).CompareTo((b.I, b.J, b.K));
        });
        var used = new int[model.Types];
        var result = new List<PoolRow>();
        foreach ((_, int i, int j, int k) in found)
        {
            int[] set = [.. new[] { i, j, k }.Where(t => t >= 0)];
            if (set.Any(t => used[t] >= 5))
            {
                continue;
            }

            foreach (int t in set)
            {
                used[t]++;
            }

            result.Add(PoolRow.Half(set, model));
            if (result.Count >= most)
            {
                break;
            }
        }

        return result;

        void Try(int i, int j, int k)
        {
            int demand = model.Demand[i] + (j < 0 ? 0 : model.Demand[j]) + (k < 0 ? 0 : model.Demand[k]);
            if (demand % 2 == 0)
            {
                return;
            }

            Collect(i);
            Collect(j);
            Collect(k);
            double value = 0;
            foreach (int a in touched)
            {
                value += (load[a] / 2) * active[a].Level;
                load[a] = 0;
            }

            touched.Clear();
            double violation = value - (demand / 2);
            if (violation > least)
            {
                found.Add((violation, i, j, k));
            }
        }

        void Collect(int i)
        {
            if (i < 0)
            {
                return;
            }

            foreach ((int a, int count) in holders[i])
            {
                if (load[a] == 0)
                {
                    touched.Add(a);
                }

                load[a] += count;
            }
        }
    }
}
