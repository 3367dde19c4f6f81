// The emptiest ASP.NET Core app that answers: what start and memory are compared with.
var app = WebApplication.CreateBuilder(args).Build();
app.MapGet("/api/health", () => "ok");
app.Run();
