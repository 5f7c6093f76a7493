"""What tests share: a database built by the migrations, and the application on it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI
from sqlalchemy import Engine
from sqlmodel import Session
from starlette.testclient import TestClient

from server.app import create_app
from server.settings import Settings
from server.storage.migrating import migrate
from server.storage.sessions import open_engine, writing


@pytest.fixture(scope="session")
def migrated(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty database file, migrated once; tests work on copies of it."""
    path = tmp_path_factory.mktemp("migrated") / "evenhand.db"
    engine = open_engine(path)
    migrate(engine)
    engine.dispose()  # the last connection to close empties the write-ahead log into the file
    return path


@pytest.fixture
def settings(migrated: Path, tmp_path: Path) -> Settings:
    """Settings with a data folder of this test's own, with an empty migrated database in it."""
    data_dir = tmp_path / "var"
    data_dir.mkdir()
    shutil.copy(migrated, data_dir / "evenhand.db")
    return Settings(data_dir=data_dir)


@pytest.fixture
def engine(settings: Settings) -> Iterator[Engine]:
    """The engine on this test's database."""
    engine = open_engine(settings.database)
    yield engine
    engine.dispose()


@pytest.fixture
def session(engine: Engine) -> Iterator[Session]:
    """A session for writing; what a test has flushed it sees, and it is committed at the test's end."""
    with writing(engine) as session:
        yield session


@pytest.fixture
def app(settings: Settings) -> Iterator[FastAPI]:
    """The application on this test's database."""
    app = create_app(settings)
    yield app
    app.state.database.close_here()  # where no lifespan has done it
    app.state.database.engine.dispose()


@pytest.fixture
def client(app: FastAPI) -> Iterator[TestClient]:
    """A browser's requests, without the browser: on the application's own origin, redirects not followed."""
    with TestClient(
        app,
        base_url="http://evenhand.test",
        headers={"Origin": "http://evenhand.test", "Accept": "text/html"},
        follow_redirects=False,
    ) as client:
        yield client
