using Microsoft.Data.Sqlite;
using TrimAssist.Journal;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>A foreign program that holds the journal's write lock until it is disposed.</summary>
internal sealed class HeldDatabase : IDisposable
{
    private readonly SqliteConnection _connection;
    private SqliteTransaction? _transaction;

    public HeldDatabase(string folder)
    {
        _connection = new SqliteConnection($"Data Source={new JournalFiles(folder).Database};Pooling=False");
        _connection.Open();
        _transaction = _connection.BeginTransaction(deferred: false);
    }

    public void Dispose()
    {
        _transaction?.Dispose();
        _transaction = null;
        _connection.Dispose();
    }
}
