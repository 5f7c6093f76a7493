"""What can be set from outside: environment variables that begin with EVENHAND_."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path

from pydantic import AliasChoices, Field
from pydantic_settings import BaseSettings, SettingsConfigDict

ROOT = Path(__file__).parents[1]


class Settings(BaseSettings):
    """All settings have a default that works on one's own machine."""

    model_config = SettingsConfigDict(
        env_prefix="EVENHAND_", env_ignore_empty=True, frozen=True, populate_by_name=True
    )

    data_dir: Path = Field(
        default=ROOT / "var", description="where the database and what belongs to it are kept"
    )
    host: str = Field(
        default="127.0.0.1", description="the address to listen at; 0.0.0.0 lets the network in"
    )
    port: int = Field(default=8000, ge=1, le=65535)
    public_url: str = Field(default="", description="how people reach it, if not at http://localhost:PORT")
    most_request_bytes: int = Field(default=1_000_000, gt=0, description="the largest form or message taken")
    most_file_bytes: int = Field(default=8_000_000, gt=0, description="the largest notebook's file read in")

    redis_url: str = Field(
        default="",
        validation_alias=AliasChoices("EVENHAND_REDIS_URL", "REDIS_URL"),
        description="the Redis that carries the live rooms between several workers; one alone needs none",
    )
    redis_prefix: str = Field(default="evenhand", description="what its names in Redis begin with")

    @cached_property
    def database(self) -> Path:
        """The database file."""
        return self.data_dir / "evenhand.db"

    @cached_property
    def url(self) -> str:
        """How people reach it, without a slash at the end."""
        return self.public_url.rstrip("/") or f"http://localhost:{self.port}"

    def make_data_dir(self) -> None:
        """Makes the data folder, for its owner only: the notebooks in it are private."""
        self.data_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
