// Least-cost perfect matching by the LEMON graph library, for comparison: reads a graph
// ("nodes edges", then "a b cost" a line), solves it and prints the cost and the seconds of one
// core that the solve alone took, the least of as many times as the second argument says.
#include <lemon/matching.h>
#include <lemon/smart_graph.h>

#include <cstdio>
#include <cstdlib>
#include <ctime>

int main(int argc, char** argv) {
  std::FILE* file = argc > 1 ? std::fopen(argv[1], "r") : nullptr;
  int n, m;
  if (!file || std::fscanf(file, "%d %d", &n, &m) != 2) {
    std::fprintf(stderr, "give a file of a graph: nodes edges, then a b cost a line\n");
    return 2;
  }
  using Graph = lemon::SmartGraph;
  Graph graph;
  graph.reserveNode(n);
  graph.reserveEdge(m);
  for (int v = 0; v < n; ++v) graph.addNode();
  Graph::EdgeMap<long long> weight(graph);
  for (int e = 0; e < m; ++e) {
    int a, b;
    long long cost;
    if (std::fscanf(file, "%d %d %lld", &a, &b, &cost) != 3) return 2;
    weight[graph.addEdge(graph.nodeFromId(a), graph.nodeFromId(b))] = -cost;
  }
  std::fclose(file);
  int repeats = argc > 2 ? std::atoi(argv[2]) : 1;
  double least = 1e300;
  long long cost = 0;
  for (int i = 0; i < repeats; ++i) {
    std::clock_t before = std::clock();
    lemon::MaxWeightedPerfectMatching<Graph, Graph::EdgeMap<long long>> solver(graph, weight);
    if (!solver.run()) {
      std::printf("no perfect matching\n");
      return 1;
    }
    double seconds = double(std::clock() - before) / CLOCKS_PER_SEC;
    if (seconds < least) least = seconds;
    cost = -static_cast<long long>(solver.matchingWeight());
  }
  std::printf("%lld %.6f\n", cost, least);
}
